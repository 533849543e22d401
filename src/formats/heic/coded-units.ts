import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import { codedSizeOf } from './sequence-size.js';

const SEQUENCE_PARAMETERS = 33;

const typeOf = (unit: Buffer): number => (unit.readUInt8(0) >> 1) & 0x3f;

/**
 * The units of an HEVC picture in the order in which a decoder wants them: the parameter sets of the `hvcC` box, then
 * those of the item (ISO/IEC 14496-15, 8.3.3). Held: a picture that is cut (a decoder shows what it can of one and
 * reports nothing, so the lengths must fill the item to its last byte), one that builds upon another, and one whose
 * own parameters speak of more pixels than the limit.
 * @param coding body of the hvcC box
 */
export function unitsOf(coding: Buffer, data: Buffer, pixelLimit: number): Buffer[] {
  const own = splitUnits(data, (coding.readUInt8(21) & 3) + 1);
  const coded = own.map(typeOf).filter((type) => type < 32);
  if (coded.length === 0) refuseDamaged('HEIC', 'there is no picture in it');
  // Units below 32 hold coded blocks; 16 to 21 are pictures that need no other one (ITU-T H.265, table 7-1).
  if (coded.some((type) => type < 16 || type > 21))
    refuseUnusual('HEIC', 'a picture that builds upon another one');
  const units = [...parameterSets(coding), ...own];
  for (const unit of units.filter((one) => typeOf(one) === SEQUENCE_PARAMETERS)) {
    const { widthPx, heightPx } = codedSizeOf(unit);
    if (widthPx * heightPx > 1.1 * pixelLimit + 4096) refuseTooLarge(widthPx, heightPx, pixelLimit);
  }
  return units;
}

function splitUnits(data: Buffer, lengthBytes: number): Buffer[] {
  const units: Buffer[] = [];
  for (let at = 0; at < data.length; ) {
    if (at + lengthBytes + 2 > data.length) refuseDamaged('HEIC', 'the picture is cut off');
    const from = at + lengthBytes;
    at = from + data.readUIntBE(at, lengthBytes);
    if (at < from + 2 || at > data.length) refuseDamaged('HEIC', 'the picture is cut off');
    units.push(data.subarray(from, at));
  }
  return units;
}

/** Arrays of parameter sets, each behind a length of 16 bits (ISO/IEC 14496-15, 8.3.3.1.2). */
function parameterSets(coding: Buffer): Buffer[] {
  const sets: Buffer[] = [];
  let at = 23;
  for (let arrays = coding.readUInt8(22); arrays > 0; arrays--) {
    const count = coding.readUInt16BE(at + 1);
    at += 3;
    for (let left = count; left > 0; left--) {
      const end = at + 2 + coding.readUInt16BE(at);
      if (end > coding.length || end < at + 4) refuseDamaged('HEIC', 'the coding of its picture is broken');
      sets.push(coding.subarray(at + 2, end));
      at = end;
    }
  }
  return sets;
}
