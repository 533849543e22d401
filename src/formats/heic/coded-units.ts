import { refuseDamaged, refuseUnusual } from '../refusal.js';

/**
 * Walks the units of an HEVC picture (ISO/IEC 14496-15, 8.3.3: each behind its length). The decoder shows what it
 * can of a cut picture and reports nothing, so the lengths must fill the item to its last byte.
 * @param coding body of the hvcC box
 */
export function checkUnits(coding: Buffer, data: Buffer): void {
  const lengthBytes = (coding.readUInt8(21) & 3) + 1;
  let pictures = 0;
  let at = 0;
  while (at < data.length) {
    if (at + lengthBytes + 2 > data.length) refuseDamaged('HEIC', 'the picture is cut off');
    const length = data.readUIntBE(at, lengthBytes);
    const type = (data.readUInt8(at + lengthBytes) >> 1) & 0x3f;
    at += lengthBytes + length;
    if (length < 2 || at > data.length) refuseDamaged('HEIC', 'the picture is cut off');
    // Units below 32 hold coded blocks; 16 to 21 are pictures that need no other one (ITU-T H.265, table 7-1).
    if (type < 32) {
      if (type < 16 || type > 21) refuseUnusual('HEIC', 'a picture that builds upon another one');
      pictures++;
    }
  }
  if (pictures === 0) refuseDamaged('HEIC', 'there is no picture in it');
}
