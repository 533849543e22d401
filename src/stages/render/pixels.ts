/** Decoded pixels, every bit the file has: no profile applied, not turned, channels interleaved, host byte order. */
export interface Pixels {
  data: Buffer;
  widthPx: number;
  heightPx: number;
  /** 1 grey, 3 RGB, 4 RGB with alpha or CMYK. */
  channels: number;
  bitsPerChannel: 8 | 16;
  colour: 'grey' | 'rgb' | 'cmyk';
  hasAlpha: boolean;
  /** Samples of 16 bits are two's complement; only some DICOM objects have such. */
  signed?: boolean;
  /** The colour profile the file carries, not yet applied. */
  profile: Buffer | null;
}

/** The samples as 16-bit numbers; only for pixels of 16 bits. */
export function wordsOf(data: Buffer): Uint16Array {
  const aligned = data.byteOffset % 2 === 0 ? data : Buffer.from(data);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, aligned.byteLength >> 1);
}

/**
 * One channel, when red, green and blue are equal in every pixel; null otherwise. Many programs save radiographs
 * as colour; taking one channel then keeps every value, which a weighted mean need not.
 */
export function neutralChannel<T extends Uint8Array | Uint16Array>(samples: T): T | null {
  const grey = (
    samples instanceof Uint16Array ? new Uint16Array(samples.length / 3) : new Uint8Array(samples.length / 3)
  ) as T;
  for (let at = 0, from = 0; at < grey.length; at++, from += 3) {
    const red = samples[from]!;
    if (samples[from + 1] !== red || samples[from + 2] !== red) return null;
    grey[at] = red;
  }
  return grey;
}
