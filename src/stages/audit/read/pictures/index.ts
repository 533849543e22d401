import type { Format, HeldFormat } from '../../../../formats/format.js';
import { type Reading, within } from '../../reading.js';
import { readBlocks } from './blocks.js';
import { decodePages } from './decode-pages.js';
import { readFields } from './fields.js';

/** A picture file: what it says about itself, by readers that know nothing of how it was stripped, and its pixels. */
export async function readPictureFile(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  format: Format | HeldFormat,
): Promise<void> {
  if (format.name !== 'DICOM' && format.name !== 'DICOMDIR') {
    readBlocks(reading, bytes, where, format.name);
    await readFields(reading, bytes, where);
  }
  let page = 0;
  for await (const decoded of decodePages(bytes, format, reading.tools.pixelLimit)) {
    page += 1;
    const place = page === 1 ? where : within(where, `picture ${page}`);
    if (decoded.kind === 'kept') await reading.picture(place, decoded.value);
    else reading.unread(place, decoded.reason);
  }
}
