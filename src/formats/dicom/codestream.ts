import { viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import type { PictureShape } from './picture-shape.js';
import type { Coding } from './transfer-syntaxes.js';

/** What a coded frame says of itself in its own header. */
export interface CodedHeader {
  widthPx: number;
  heightPx: number;
  components: number;
  bits: number;
  signed: boolean;
  /** JPEG-LS with a scan for each colour, which come out as planes. */
  planar?: boolean;
}

/**
 * The header of a coded frame, which must say what the object around it says: a decoder allocates by its own header,
 * and one of 65,500 pixels a side costs gigabytes. Refuses, for `outcomeOf`, any difference, and frames cut short.
 */
export function checkCodedHeader(coding: Coding, coded: Uint8Array, shape: PictureShape): CodedHeader {
  const tiled = coding === 'jpeg-2000' || coding === 'htj2k';
  const header = tiled ? readSiz(viewOf(coded)) : readFrameHeader(coding, viewOf(coded));
  if (header.widthPx !== shape.widthPx || header.heightPx !== shape.heightPx)
    refuseDamaged('DICOM', 'its picture has another size than its header says');
  if (header.components !== shape.samples)
    refuseDamaged('DICOM', 'its picture has another number of colours than its header says');
  // many encoders code all allocated bits; the upper ones are masked as in a native picture
  if (header.bits < shape.bitsStored || header.bits > shape.bitsAllocated)
    refuseDamaged('DICOM', 'its picture has another depth than its header says');
  if (tiled) walkTileParts(viewOf(coded));
  else if (!endsWithMark(viewOf(coded))) refuseDamaged('DICOM', 'its picture is cut off');
  return header;
}

/** Start-of-frame markers by coding: ITU-T T.81 table B.1 and, for JPEG-LS, T.87 C.1.1. */
const FRAME_MARKERS: Partial<Record<Coding, readonly number[]>> = {
  'jpeg-8': [0xc0, 0xc1],
  'jpeg-12': [0xc0, 0xc1],
  'jpeg-lossless': [0xc3],
  'jpeg-ls': [0xf7],
};

function readFrameHeader(coding: Coding, coded: Buffer): CodedHeader {
  if (coded.readUInt16BE(0) !== 0xffd8) refuseDamaged('DICOM', 'its picture does not begin as it should');
  for (let at = 2; ; at += 2 + coded.readUInt16BE(at + 2)) {
    while (coded.readUInt16BE(at) === 0xffff) at++; // fill bytes, T.81 B.1.1.2
    const marker = coded.readUInt16BE(at) - 0xff00;
    if (marker < 0xc0 || marker === 0xd9 || marker === 0xda)
      refuseDamaged('DICOM', 'its picture has no header');
    const frame =
      (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) || marker === 0xf7;
    if (!frame) continue;
    const after = at + 2 + coded.readUInt16BE(at + 2);
    if (!FRAME_MARKERS[coding]?.includes(marker))
      refuseUnusual('DICOM', 'its picture is coded in another way than its header says');
    return {
      bits: coded[at + 4]!,
      heightPx: coded.readUInt16BE(at + 5),
      widthPx: coded.readUInt16BE(at + 7),
      components: coded.readUInt8(at + 9),
      signed: false,
      planar: coding === 'jpeg-ls' && colours(coded, after) === 1 && coded.readUInt8(at + 9) > 1,
    };
  }
}

/** Components of the first scan (T.81, B.2.3). */
function colours(coded: Buffer, from: number): number {
  for (let at = from; at + 5 <= coded.length; at += 2 + coded.readUInt16BE(at + 2))
    if (coded.readUInt16BE(at) === 0xffda) return coded.readUInt8(at + 4);
  return 0;
}

/** EOI, then padding; without it CharLS goes on for ten seconds. */
function endsWithMark(coded: Buffer): boolean {
  let end = coded.length;
  while (end > 2 && coded[end - 1] === 0) end--;
  return coded.readUInt16BE(end - 2) === EOC;
}

/** A picture of teeth has one tile, or some hundreds. */
const MOST_TILES = 4096;

/** SIZ of JPEG 2000 (ITU-T T.800, A.5.1), which HTJ2K shares. A JP2 wrapper is not allowed in DICOM (PS3.5, A.4.4). */
function readSiz(coded: Buffer): CodedHeader {
  if (coded.readUInt32BE(0) !== 0xff4fff51)
    return refuseUnusual('DICOM', 'its picture does not begin as JPEG 2000 in DICOM does');
  const [xSize = 0, ySize = 0, xFrom = 0, yFrom = 0, xTile = 0, yTile = 0] = Array.from(
    { length: 6 },
    (_, n) => coded.readUInt32BE(8 + 4 * n),
  );
  const components = coded.readUInt16BE(40);
  const depth = coded.readUInt8(42);
  for (let n = 0; n < components; n++) {
    if (coded.readUInt8(42 + 3 * n) !== depth || coded.readUInt16BE(43 + 3 * n) !== 0x0101)
      refuseUnusual('DICOM', 'colours of different size or depth');
  }
  const tiles = Math.ceil(xSize / xTile) * Math.ceil(ySize / yTile);
  if (xTile === 0 || yTile === 0 || tiles > MOST_TILES) refuseUnusual('DICOM', 'a picture in too many parts');
  return {
    widthPx: xSize - xFrom,
    heightPx: ySize - yFrom,
    components,
    bits: (depth & 0x7f) + 1,
    signed: depth > 0x7f,
  };
}

/** End of a codestream, and of a JPEG, which has the same mark. */
const EOC = 0xffd9;
const SOT = 0xff90;

/** The tile parts follow each other to the end mark (T.800, A.4.2); the decoder would draw a cut-off one as grey. */
function walkTileParts(coded: Buffer): void {
  let at = 2;
  while (coded.readUInt16BE(at) !== SOT) {
    if (coded.readUInt16BE(at) < 0xff00) refuseDamaged('DICOM', 'its picture is out of step');
    at += 2 + coded.readUInt16BE(at + 2);
  }
  while (coded.readUInt16BE(at) === SOT) {
    const length = coded.readUInt32BE(at + 6);
    if (length === 0) {
      // the last part reaches to the end mark, which at most a byte of padding follows
      if (coded.lastIndexOf(Buffer.from([0xff, 0xd9])) < coded.length - 3)
        refuseDamaged('DICOM', 'its picture is cut off');
      return;
    }
    if (length < 14) refuseDamaged('DICOM', 'its picture is out of step');
    at += length;
  }
  if (coded.readUInt16BE(at) !== EOC) refuseDamaged('DICOM', 'its picture is cut off');
}
