import { viewOf } from '../bytes.js';
import { refuseDamaged } from '../refusal.js';

const HEADER_BYTES = 64;

/**
 * RLE Lossless, PS3.5 annex G: one segment for each byte of each sample, the more significant first. Leaves pixels in
 * their usual order: samples interleaved, little endian. Refuses, for `outcomeOf`, segments that make another length.
 */
export function unpackRunLength(
  coded: Uint8Array,
  pixelCount: number,
  samples: number,
  bytesPerSample: number,
): Uint8Array {
  const header = viewOf(coded);
  const wanted = samples * bytesPerSample;
  if (coded.length < HEADER_BYTES || header.readUInt32LE(0) !== wanted)
    refuseDamaged('DICOM', 'its picture has another number of parts than it says');
  const starts = Array.from({ length: wanted }, (_, at) => header.readUInt32LE(4 + 4 * at));
  const pixels = new Uint8Array(pixelCount * wanted);
  starts.forEach((start, segment) => {
    const end = starts[segment + 1] ?? coded.length;
    if (start < HEADER_BYTES || end > coded.length || start >= end)
      refuseDamaged('DICOM', 'its picture is cut off');
    const byte = bytesPerSample - 1 - (segment % bytesPerSample);
    const offset = Math.floor(segment / bytesPerSample) * bytesPerSample + byte;
    unpackSegment(coded.subarray(start, end), pixels, offset, wanted);
  });
  return pixels;
}

/** PackBits (annex G.3.1) into every `step`-th byte from `offset`, exactly to the end. */
function unpackSegment(coded: Uint8Array, into: Uint8Array, offset: number, step: number): void {
  let at = 0;
  let to = offset;
  while (to < into.length) {
    const count = coded[at++] ?? refuseDamaged('DICOM', 'its picture is cut off');
    if (count === 128) continue;
    const repeated = count > 128;
    const run = repeated ? 257 - count : count + 1;
    if (at + (repeated ? 1 : run) > coded.length) refuseDamaged('DICOM', 'its picture is cut off');
    if (to + (run - 1) * step >= into.length) refuseDamaged('DICOM', 'its picture is longer than it says');
    for (let left = run; left > 0; left--, to += step) into[to] = coded[repeated ? at : at++]!;
    if (repeated) at++;
  }
}
