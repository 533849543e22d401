import type { Libde265 } from 'libheif-js/libheif-wasm/libheif-bundle.js';

/** One plane of samples as the decoder holds it; 16 bits each when there are more than 8 in use. */
export interface Plane {
  samples: Uint8Array | Uint16Array;
  widthPx: number;
  heightPx: number;
  bits: number;
}

export interface DecodedUnits {
  /** Brightness alone, or with two planes of colour. */
  planes: Plane[];
  /** Codes of ITU-T H.273 that the coded picture itself tells: 2 is unspecified. */
  matrix: number;
  fullRange: boolean;
}

/** libde265, compiled to wasm; kept for the next picture unless it broke over one. */
let engine: Libde265 | null = null;

export async function openEngine(): Promise<Libde265> {
  const { default: start } = await import('libheif-js/libheif-wasm/libheif-bundle.js');
  const silent = (): void => undefined;
  engine ??= start({ print: silent, printErr: silent });
  return engine;
}

/** A decoder that ran out of memory or into a trap is not used again. */
export function dropEngine(): void {
  engine = null;
}

/** More steps than there are units or rows in any picture. */
const MOST_STEPS = 10_000;

/**
 * The first picture of the units; null when the decoder complains. libde265 is asked directly: libheif's build for
 * wasm leaves out the two filters that HEVC wants after decoding (deblocking and sample adaptive offset), which moves
 * values by up to 20 levels.
 */
export function decodeUnits(de265: Libde265, units: readonly Buffer[]): DecodedUnits | null {
  const context = de265._de265_new_decoder();
  const number = de265._malloc(8);
  try {
    if (units.some((unit) => pushUnit(de265, context, unit) !== 0)) return null;
    if (de265._de265_flush_data(context) !== 0) return null;
    for (let step = 0; step < MOST_STEPS; step++) {
      const error = de265._de265_decode(context, number);
      const image = de265._de265_get_next_picture(context);
      if (error !== 0) return null;
      if (image !== 0) return readImage(de265, image, number);
      if (int32At(de265, number) === 0) return null;
    }
    return null;
  } finally {
    de265._free(number);
    de265._de265_free_decoder(context);
  }
}

function pushUnit(de265: Libde265, context: number, unit: Buffer): number {
  const copy = de265._malloc(unit.length);
  de265.HEAPU8.set(unit, copy);
  const error = de265._de265_push_NAL(context, copy, unit.length, 0, 0, 0);
  de265._free(copy);
  return error;
}

function readImage(de265: Libde265, image: number, number: number): DecodedUnits {
  // Chroma format 0 has no colour (ITU-T H.265, table 6-1).
  const planes = de265._de265_get_chroma_format(image) === 0 ? [0] : [0, 1, 2];
  return {
    planes: planes.map((plane) => readPlane(de265, image, plane, number)),
    matrix: de265._de265_get_image_matrix_coefficients(image),
    fullRange: de265._de265_get_image_full_range_flag(image) !== 0,
  };
}

/** A copy without the padding of its rows, since the decoder's memory is used again. */
function readPlane(de265: Libde265, image: number, plane: number, number: number): Plane {
  const [widthPx, heightPx] = [
    de265._de265_get_image_width(image, plane),
    de265._de265_get_image_height(image, plane),
  ];
  const bits = de265._de265_get_bits_per_pixel(image, plane);
  const from = de265._de265_get_image_plane(image, plane, number);
  const strideBytes = int32At(de265, number);
  const rowBytes = widthPx * (bits > 8 ? 2 : 1);
  const bytes = new Uint8Array(rowBytes * heightPx);
  for (let row = 0; row < heightPx; row++) {
    const at = from + row * strideBytes;
    bytes.set(de265.HEAPU8.subarray(at, at + rowBytes), row * rowBytes);
  }
  return { samples: bits > 8 ? new Uint16Array(bytes.buffer) : bytes, widthPx, heightPx, bits };
}

/** wasm is little endian, whatever this machine is. */
const int32At = ({ HEAPU8 }: Libde265, at: number): number =>
  new DataView(HEAPU8.buffer, HEAPU8.byteOffset).getInt32(at, true);
