/**
 * Reads weights in the sharded format of TensorFlow.js: a manifest of names, shapes and kinds, and one run of bytes in
 * its order. Most are stored in one byte each, value = byte * scale + min.
 */
export interface Weight {
  shape: readonly number[];
  values: Float32Array;
}

interface ManifestEntry {
  name: string;
  shape: number[];
  dtype: string;
  quantization?: { scale: number; min: number; dtype: string };
}

/** Throws when bytes and manifest do not fit each other. */
export function readWeights(manifest: string, bytes: Uint8Array): Map<string, Weight> {
  const groups = JSON.parse(manifest) as { weights: ManifestEntry[] }[];
  const weights = new Map<string, Weight>();
  let at = 0;
  for (const { name, shape, dtype, quantization } of groups.flatMap((group) => group.weights)) {
    const count = shape.reduce((product, length) => product * length, 1);
    const stored = quantization?.dtype ?? dtype;
    const size = { uint8: 1, float32: 4, int32: 4 }[stored];
    if (size === undefined || at + count * size > bytes.length) throw new Error('the weights do not fit');
    const view = new DataView(bytes.buffer, bytes.byteOffset + at, count * size);
    const { scale, min } = quantization ?? { scale: 1, min: 0 };
    const valueAt = (i: number): number => {
      if (stored === 'uint8') return view.getUint8(i) * scale + min;
      return stored === 'float32' ? view.getFloat32(i * 4, true) : view.getInt32(i * 4, true);
    };
    weights.set(name, { shape, values: Float32Array.from({ length: count }, (_, i) => valueAt(i)) });
    at += count * size;
  }
  if (at !== bytes.length) throw new Error('the weights do not fit');
  return weights;
}
