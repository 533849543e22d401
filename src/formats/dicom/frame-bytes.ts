import { viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import type { PictureShape } from './picture-shape.js';
import type { DicomFile } from './read-dicom.js';
import { PIXEL_DATA, type WalkedElement } from './walk-elements.js';

/**
 * The bytes of one frame as they lie in the file, and nothing of another frame. @param index from 0, below the number
 * of frames. Refuses, for `outcomeOf`, picture data longer or shorter than the header says.
 */
export function frameBytes(file: DicomFile, shape: PictureShape, index: number): Uint8Array {
  const pixels = file.elements.find(({ tag }) => tag === PIXEL_DATA) as WalkedElement;
  return pixels.fragments
    ? codedFrame(file.bytes, pixels.fragments, shape.frames, index)
    : nativeFrame(file.bytes, pixels, shape, index);
}

export function nativeFrameBytes(shape: PictureShape): number {
  const perPixel = shape.photometric === 'YBR_FULL_422' ? 2 : shape.samples;
  return shape.widthPx * shape.heightPx * perPixel * (shape.bitsAllocated / 8);
}

/** One byte of padding makes the length even (PS3.5, 8.1.1). */
function nativeFrame(bytes: Uint8Array, pixels: WalkedElement, shape: PictureShape, index: number) {
  const size = nativeFrameBytes(shape);
  const wanted = size * shape.frames;
  if (pixels.length < wanted) refuseDamaged('DICOM', 'a part of the picture is missing');
  if (pixels.length > wanted + (wanted % 2)) refuseDamaged('DICOM', 'more picture data than the picture has');
  return bytes.subarray(pixels.at + index * size, pixels.at + (index + 1) * size);
}

/** PS3.5, A.4: a frame is one or more fragments; the offset table, when filled, says where each frame begins. */
function codedFrame(
  bytes: Uint8Array,
  [table, ...fragments]: { at: number; length: number }[],
  frames: number,
  index: number,
): Uint8Array {
  if (!table || fragments.length === 0) return refuseDamaged('DICOM', 'its picture data is empty');
  const starts = startsOf(bytes, table, fragments, frames);
  const mine = fragments.slice(starts[index], starts[index + 1]);
  const parts = mine.map(({ at, length }) => bytes.subarray(at, at + length));
  return parts.length === 1 ? (parts[0] as Uint8Array) : Buffer.concat(parts);
}

/** Number of each frame's first fragment. */
function startsOf(
  bytes: Uint8Array,
  table: { at: number; length: number },
  fragments: readonly { at: number; length: number }[],
  frames: number,
): number[] {
  if (frames === 1) return [0];
  if (fragments.length === frames) return fragments.map((_, at) => at);
  const origin = table.at + table.length;
  const places = new Map(fragments.map(({ at }, number) => [at - 8 - origin, number]));
  const starts = Array.from({ length: table.length >> 2 }, (_, entry) =>
    places.get(viewOf(bytes).readUInt32LE(table.at + 4 * entry)),
  );
  const rising = starts.every((start, at) =>
    at === 0 ? start === 0 : start !== undefined && start > (starts[at - 1] ?? Infinity),
  );
  if (starts.length !== frames || !rising) return refuseUnusual('DICOM', 'frames that cannot be told apart');
  return starts as number[];
}
