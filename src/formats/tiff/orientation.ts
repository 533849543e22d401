import { outcomeOf } from '../refusal.js';
import { TiffReader } from './directory.js';

/** Orientation 1-8 of a TIFF file or EXIF block (TIFF 6.0, tag 274); 1 when absent, unlawful or unreadable. */
export function orientationOf(block: Uint8Array): number {
  const read = outcomeOf('TIFF', () => {
    const tiff = new TiffReader(block);
    return tiff.number(tiff.directory(tiff.u32(4)), 274, 1);
  });
  return read.kind === 'kept' && read.value >= 1 && read.value <= 8 ? read.value : 1;
}
