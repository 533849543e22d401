import type { Chance } from './chance.js';

/** A number that tells a width or height: where it stands and how it is written. */
interface SizeField {
  at: number;
  bytes: 2 | 3 | 4;
  big: boolean;
}

const HUGE = [0, 1, 9999, 16_383, 65_535, 100_000, 0x7fffffff, 0xffffffff];

/** A picture that says it is far larger (or smaller) than it is. Formats are told by what stands in the bytes. */
export function lieAboutSize(bytes: Buffer, chance: Chance): Buffer {
  const fields = sizeFields(bytes).filter(({ at, bytes: size }) => at + size <= bytes.length);
  if (fields.length === 0) return bytes;
  const changed = Buffer.from(bytes);
  for (const field of chance.once(2) ? fields : [chance.oneOf(fields)]) {
    const value = Math.min(chance.oneOf(HUGE), 2 ** (8 * field.bytes) - 1);
    if (field.big) changed.writeUIntBE(value, field.at, field.bytes);
    else changed.writeUIntLE(value, field.at, field.bytes);
  }
  return changed;
}

function sizeFields(bytes: Buffer): SizeField[] {
  const fields: SizeField[] = [];
  const after = (mark: string | Buffer, offsets: number[], size: SizeField['bytes'], big: boolean): void => {
    for (
      let at = bytes.indexOf(mark, 0, 'latin1');
      at >= 0 && fields.length < 40;
      at = bytes.indexOf(mark, at + 1, 'latin1')
    )
      for (const offset of offsets) fields.push({ at: at + offset, bytes: size, big });
  };
  after('IHDR', [4, 8], 4, true);
  for (const frame of [0xc0, 0xc1, 0xc2, 0xc3, 0xf7]) after(Buffer.from([0xff, frame, 0]), [5, 7], 2, true);
  after('VP8X', [12, 15], 3, false);
  after('\x9d\x01\x2a', [3, 5], 2, false);
  after('ispe', [8, 12], 4, true);
  // JPEG 2000: SIZ with its grid, its tiles and their origins (ISO/IEC 15444-1, A.5.1).
  after(Buffer.from([0xff, 0x51]), [6, 10, 14, 18, 22, 26], 4, true);
  // TIFF fields 256, 257, 278, 322 and 323, and DICOM's rows, columns, frames and samples.
  for (const tag of [0, 1, 0x16, 0x42, 0x43]) after(Buffer.from([tag, 1, 4, 0, 1, 0, 0, 0]), [8], 4, false);
  for (const element of [0x10, 0x11, 0x02, 0x08]) after(Buffer.from([0x28, 0, element, 0]), [8], 2, false);
  return fields;
}
