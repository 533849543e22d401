import { latin1At, sameBytes, viewOf } from '../bytes.js';
import { LIMIT_PX } from '../format.js';
import { inflate } from '../inflate.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import { crc32 } from './crc.js';

export const SIGNATURE = '\x89PNG\r\n\x1a\n';

export interface PngChunk {
  name: string;
  data: Uint8Array;
  /** Length, name, data and CRC as in the file. */
  whole: Uint8Array;
}

export interface PngParts {
  widthPx: number;
  heightPx: number;
  bitDepth: number;
  /** PNG (ISO/IEC 15948) table 11.1: 0 grey, 2 colour, 3 palette, 4 grey with alpha, 6 colour with alpha. */
  colourType: number;
  /** All chunks up to and with IEND. */
  chunks: PngChunk[];
  trailing: Uint8Array;
}

/** Chunks of the file; a wrong CRC refuses a critical one and is ignored in others, which are not copied as such. */
export function readPng(bytes: Uint8Array): PngParts {
  const file = viewOf(bytes);
  const chunks: PngChunk[] = [];
  let at = SIGNATURE.length;
  while (chunks.at(-1)?.name !== 'IEND') {
    if (at + 12 > file.length) refuseDamaged('PNG', 'its end is missing');
    const end = at + 12 + file.readUInt32BE(at);
    if (end > file.length) refuseDamaged('PNG', 'a chunk runs past the end of the file');
    const name = latin1At(file, at + 4, 4);
    const sound = crc32(file.subarray(at + 4, end - 4)) === file.readUInt32BE(end - 4);
    if (!/^[A-Za-z]{4}$/.test(name)) refuseDamaged('PNG', 'a chunk has no name');
    if (!sound && isCritical(name)) refuseDamaged('PNG', 'a checksum does not fit');
    if (sound || !COPIED.has(name))
      chunks.push({ name, data: file.subarray(at + 8, end - 4), whole: file.subarray(at, end) });
    at = end;
  }
  return { ...readHeader(chunks), chunks, trailing: file.subarray(at) };
}

/** Ancillary chunks that strip copies; their bytes must be sound. */
const COPIED = new Set(['tRNS', 'gAMA', 'cHRM', 'sRGB', 'sBIT', 'bKGD', 'pHYs', 'cICP']);

/** An upper-case first letter marks a chunk that decoders must understand (ISO/IEC 15948, 5.4). */
export const isCritical = (name: string): boolean => name[0] === name[0]!.toUpperCase();

const DEPTHS: Record<number, number[]> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
};

function readHeader(chunks: PngChunk[]) {
  const [header] = chunks;
  if (header?.name !== 'IHDR' || header.data.length !== 13) refuseDamaged('PNG', 'its header is broken');
  const view = viewOf(header.data);
  const [widthPx, heightPx] = [view.readUInt32BE(0), view.readUInt32BE(4)];
  const [bitDepth, colourType] = [view.readUInt8(8), view.readUInt8(9)];
  const sound = DEPTHS[colourType]?.includes(bitDepth) && view[10] === 0 && view[11] === 0 && view[12]! <= 1;
  if (!sound || widthPx === 0 || heightPx === 0) refuseDamaged('PNG', 'its header is broken');
  if (widthPx * heightPx > LIMIT_PX) refuseTooLarge(widthPx, heightPx, LIMIT_PX);
  checkOrder(chunks);
  return { widthPx, heightPx, bitDepth, colourType };
}

function checkOrder(chunks: PngChunk[]): void {
  const names = chunks.map(({ name }) => name);
  const unknown = names.find((name) => isCritical(name) && !['IHDR', 'PLTE', 'IDAT', 'IEND'].includes(name));
  if (unknown) refuseUnusual('PNG', 'a kind of picture data that is not known');
  const [first, last] = [names.indexOf('IDAT'), names.lastIndexOf('IDAT')];
  const once = ['IHDR', 'PLTE'].every((name) => names.indexOf(name) === names.lastIndexOf(name));
  if (first < 0) refuseDamaged('PNG', 'there is no picture in it');
  if (!once || names.slice(first, last).some((name) => name !== 'IDAT') || names.indexOf('PLTE') > first)
    refuseDamaged('PNG', 'its chunks are out of order');
}

/**
 * Bytes of the IDAT data that the zlib stream really uses. Held when it does not unpack to exactly the rows of
 * the picture: more would be hidden data, less a damaged picture.
 */
export function pictureBytesUsed(png: PngParts): number {
  const idat = Buffer.concat(png.chunks.filter(({ name }) => name === 'IDAT').map(({ data }) => data));
  const expected = rowsOf(png).reduce((sum, { rows, rowBytes }) => sum + rows * rowBytes, 0);
  const unpacked = inflate('PNG', idat, expected);
  if (unpacked.produced.length !== expected) refuseDamaged('PNG', 'the picture is cut off');
  return unpacked.consumed;
}

const CHANNELS: Record<number, number> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };

/** Passes of Adam7 (ISO/IEC 15948, 8.2): first column and row, then steps. */
const PASSES = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const;

function rowsOf(png: PngParts): { rows: number; rowBytes: number }[] {
  const bits = png.bitDepth * CHANNELS[png.colourType]!;
  const interlaced = png.chunks[0]!.data[12] === 1;
  return (interlaced ? PASSES : [[0, 0, 1, 1] as const]).map(([x, y, stepX, stepY]) => {
    const columns = Math.ceil((png.widthPx - x) / stepX);
    const rows = columns > 0 ? Math.max(0, Math.ceil((png.heightPx - y) / stepY)) : 0;
    return { rows, rowBytes: 1 + Math.ceil((columns * bits) / 8) };
  });
}

export const isSignature = (bytes: Uint8Array): boolean =>
  sameBytes(bytes.subarray(0, 8), Buffer.from(SIGNATURE, 'latin1'));
