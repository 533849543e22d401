import { outcomeOf } from '../refusal.js';
import { TiffReader } from '../tiff/directory.js';
import type { JpegParts } from './read-jpeg.js';

const MPF_HEAD = 'MPF\0';
const ENTRIES = 0xb002;
const ENTRY_BYTES = 16;
const PREVIEW = 1;

/**
 * Pictures of a multi-picture file (CIPA DC-007, 5.2): entries of the index in the first picture, each with a kind in
 * the third byte of its attributes, where 1 is a preview of another. Files without an index may still carry whole
 * JPEG files behind their end; those count as one more.
 */
export function countPictures({ metadata, trailing }: JpegParts): number {
  const index = metadata.find(({ carrier }) => carrier === 'multi-picture');
  const counted = index ? countEntries(index.body.subarray(MPF_HEAD.length)) : null;
  const another = trailing[0] === 0xff && trailing[1] === 0xd8 && trailing[2] === 0xff;
  return counted ?? (another ? 2 : 1);
}

/** Null when the index cannot be read. */
function countEntries(block: Uint8Array): number | null {
  const read = outcomeOf('JPEG', () => {
    const tiff = new TiffReader(block);
    const entries = tiff.directory(tiff.u32(4)).entries.get(ENTRIES)?.bytes;
    if (!entries) return null;
    const kinds = Array.from({ length: Math.floor(entries.length / ENTRY_BYTES) }, (_, index) => {
      const at = ENTRY_BYTES * index;
      return ((tiff.little ? entries.readUInt32LE(at) : entries.readUInt32BE(at)) >> 16) & 0xff;
    });
    return kinds.filter((kind) => kind !== PREVIEW).length;
  });
  return read.kind === 'kept' ? read.value : null;
}
