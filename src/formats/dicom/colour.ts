import { refuseUnusual } from '../refusal.js';

/** Three planes to one sequence of pixels (Planar Configuration, PS3.3 C.7.6.3.1.3). */
export function interleave(planes: Uint8Array): Uint8Array;
export function interleave(planes: Uint8Array | Uint16Array): Uint8Array | Uint16Array;
export function interleave(planes: Uint8Array | Uint16Array): Uint8Array | Uint16Array {
  const size = planes.length / 3;
  const pixels =
    planes instanceof Uint16Array ? new Uint16Array(planes.length) : new Uint8Array(planes.length);
  for (let at = 0; at < size; at++)
    for (let plane = 0; plane < 3; plane++) pixels[3 * at + plane] = planes[plane * size + at]!;
  return pixels;
}

/** YBR_FULL_422, native: two luminances, then the two differences they share (PS3.3, C.7.6.3.1.2). */
export function widenHalfColour(halves: Uint8Array, widthPx: number): Uint8Array {
  if (widthPx % 2 === 1) return refuseUnusual('DICOM', 'half colour in an odd width');
  const pixels = new Uint8Array((halves.length / 2) * 3);
  for (let from = 0, to = 0; from < halves.length; from += 4, to += 6) {
    const [first = 0, second = 0, blue = 0, red = 0] = halves.subarray(from, from + 4);
    pixels.set([first, blue, red, second, blue, red], to);
  }
  return pixels;
}

const clamp = (value: number): number => Math.min(255, Math.max(0, Math.round(value)));

/**
 * YBR_FULL of 8 bits to red, green and blue: the inverse of the matrix of PS3.3, C.7.6.3.1.2 (ITU-R BT.601, full
 * range). @param pixels interleaved
 */
export function toRgb(pixels: Uint8Array): Uint8Array {
  const rgb = new Uint8Array(pixels.length);
  for (let at = 0; at + 2 < pixels.length; at += 3) {
    const luminance = pixels[at]!;
    const blue = pixels[at + 1]! - 128;
    const red = pixels[at + 2]! - 128;
    rgb[at] = clamp(luminance + 1.402 * red);
    rgb[at + 1] = clamp(luminance - 0.344136 * blue - 0.714136 * red);
    rgb[at + 2] = clamp(luminance + 1.772 * blue);
  }
  return rgb;
}
