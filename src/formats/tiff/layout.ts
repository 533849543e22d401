import { LIMIT_PX } from '../format.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import type { TiffDirectory, TiffReader } from './directory.js';

/** Tags of TIFF 6.0 that a rebuilt file may hold. Every other tag is left out. */
export const TAG = {
  width: 256,
  height: 257,
  bits: 258,
  compression: 259,
  photometric: 262,
  fillOrder: 266,
  stripOffsets: 273,
  samples: 277,
  rowsPerStrip: 278,
  stripBytes: 279,
  xResolution: 282,
  yResolution: 283,
  planar: 284,
  resolutionUnit: 296,
  predictor: 317,
  colourMap: 320,
  tileWidth: 322,
  tileHeight: 323,
  tileOffsets: 324,
  tileBytes: 325,
  inkSet: 332,
  extraSamples: 338,
  sampleFormat: 339,
  icc: 34675,
} as const;

export const NONE = 1;
export const LZW = 5;
export const DEFLATE = 8;
export const PACKBITS = 32773;

/** How the pixels of page 1 are stored. */
export interface TiffLayout {
  widthPx: number;
  heightPx: number;
  bits: number;
  samples: number;
  /** Bits of one pixel within one plane. */
  pixelBits: number;
  planes: number;
  compression: number;
  photometric: number;
  predictor: number;
  extraSamples: number[];
  fillOrder: number;
  tiled: boolean;
  /** Strips: the picture's width and rows per strip. */
  blockWidthPx: number;
  blockHeightPx: number;
  /** Offset and byte count of each strip or tile, planes one after the other. */
  blocks: { offset: number; bytes: number }[];
  colourMap: number[] | null;
}

/** Names for the hold. Old and new codes of TIFF 6.0 and its supplements. */
const COMPRESSIONS: Record<number, string> = {
  2: 'fax compression',
  3: 'fax compression',
  4: 'fax compression',
  6: 'JPEG compression inside',
  7: 'JPEG compression inside',
  34712: 'JPEG 2000 compression inside',
};

export function readLayout(tiff: TiffReader, page: TiffDirectory): TiffLayout {
  const one = (tag: number, fallback: number | null = null) => tiff.number(page, tag, fallback);
  const [widthPx, heightPx] = [one(TAG.width), one(TAG.height)];
  if (widthPx === 0 || heightPx === 0) refuseDamaged('TIFF', 'its size is zero');
  if (widthPx * heightPx > LIMIT_PX) refuseTooLarge(widthPx, heightPx, LIMIT_PX);
  const samples = one(TAG.samples, 1);
  const bits = readBits(tiff, page, samples);
  const compression = readCompression(one(TAG.compression, NONE));
  const planes = one(TAG.planar, 1) === 2 && samples > 1 ? samples : 1;
  const tiled = page.entries.has(TAG.tileOffsets);
  const rows = Math.min(heightPx, one(TAG.rowsPerStrip, heightPx));
  const [blockWidthPx, blockHeightPx] = tiled ? [one(TAG.tileWidth), one(TAG.tileHeight)] : [widthPx, rows];
  if (blockWidthPx === 0 || blockHeightPx === 0 || blockWidthPx > 65536 || blockHeightPx > LIMIT_PX)
    refuseDamaged('TIFF', 'its strips are broken');
  const layout = {
    widthPx,
    heightPx,
    bits,
    samples,
    pixelBits: planes > 1 ? bits : bits * samples,
    planes,
    compression,
    photometric: one(TAG.photometric),
    predictor: one(TAG.predictor, 1),
    extraSamples: tiff.numbers(page, TAG.extraSamples, []),
    fillOrder: one(TAG.fillOrder, 1),
    tiled,
    blockWidthPx,
    blockHeightPx,
    colourMap: null,
  };
  checkLayout(layout, one(TAG.inkSet, 1));
  const colourMap = layout.photometric === 3 ? tiff.numbers(page, TAG.colourMap) : null;
  if (colourMap && (bits > 8 || colourMap.length !== 3 * 2 ** bits))
    refuseDamaged('TIFF', 'its palette is broken');
  return { ...layout, colourMap, blocks: readBlocks(tiff, page, layout) };
}

function readBits(tiff: TiffReader, page: TiffDirectory, samples: number): number {
  if (samples < 1 || samples > 5) refuseUnusual('TIFF', `${samples} channels`);
  const all = tiff.numbers(page, TAG.bits, [1]);
  const [bits] = all;
  if ((all.length !== samples && all.length !== 1) || all.some((value) => value !== bits))
    refuseUnusual('TIFF', 'channels of different depth');
  if (!bits || ![1, 2, 4, 8, 16].includes(bits)) refuseUnusual('TIFF', `${bits} bits a channel`);
  if (tiff.numbers(page, TAG.sampleFormat, [1]).some((format) => format !== 1))
    refuseUnusual('TIFF', 'values that are not whole numbers');
  return bits;
}

function readCompression(code: number): number {
  if (code === 32946) return DEFLATE;
  if ([NONE, LZW, DEFLATE, PACKBITS].includes(code)) return code;
  return refuseUnusual('TIFF', COMPRESSIONS[code] ?? 'an unknown compression');
}

type Shape = Omit<TiffLayout, 'blocks' | 'colourMap'>;

/** Channels by photometric interpretation: 0, 1 grey, 2 RGB, 3 palette, 5 CMYK (TIFF 6.0, section 8 and 16). */
function checkLayout(layout: Shape, inkSet: number): void {
  const { photometric, samples, predictor, compression, fillOrder, extraSamples, bits } = layout;
  const base = ({ 0: 1, 1: 1, 2: 3, 3: 1, 5: 4 } as Record<number, number>)[photometric];
  if (base === undefined || inkSet !== 1) refuseUnusual('TIFF', 'a kind of colour that is not known');
  if (samples < base || extraSamples.length > samples - base || extraSamples.some((kind) => kind > 2))
    refuseUnusual('TIFF', 'an unknown number of channels');
  const predicts = (compression === LZW || compression === DEFLATE) && predictor === 2 && bits >= 8;
  if (predictor !== 1 && !predicts) refuseUnusual('TIFF', 'an unknown way to predict pixels');
  if (fillOrder !== 1 && !(fillOrder === 2 && compression === NONE))
    refuseUnusual('TIFF', 'a reversed bit order');
  if (layout.tiled && (layout.blockWidthPx % 16 !== 0 || layout.blockHeightPx % 16 !== 0))
    refuseDamaged('TIFF', 'its tiles are broken');
}

function readBlocks(tiff: TiffReader, page: TiffDirectory, layout: Shape): TiffLayout['blocks'] {
  const [offsetTag, bytesTag] = layout.tiled
    ? [TAG.tileOffsets, TAG.tileBytes]
    : [TAG.stripOffsets, TAG.stripBytes];
  const offsets = tiff.numbers(page, offsetTag);
  const sizes = tiff.numbers(page, bytesTag);
  const across = Math.ceil(layout.widthPx / layout.blockWidthPx);
  const expected = across * Math.ceil(layout.heightPx / layout.blockHeightPx) * layout.planes;
  if (offsets.length !== expected || sizes.length !== expected)
    refuseDamaged('TIFF', 'its strips do not fit');
  return offsets.map((offset, index) => {
    const bytes = sizes[index]!;
    if (offset < 8 || bytes === 0 || offset + bytes > tiff.file.length)
      refuseDamaged('TIFF', 'a strip lies outside the file');
    return { offset, bytes };
  });
}
