import { latin1At, startsWith, viewOf } from '../bytes.js';
import { LIMIT_PX } from '../format.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';

export interface WebpParts {
  widthPx: number;
  heightPx: number;
  /** `VP8 ` or `VP8L`. */
  picture: { name: string; data: Uint8Array };
  /** The ALPH chunk of a lossy picture. */
  alpha: Uint8Array | null;
  profile: Uint8Array | null;
  /** All other chunks. */
  metadata: { name: string; data: Uint8Array }[];
  trailing: Uint8Array;
}

export const isWebp = (bytes: Uint8Array): boolean =>
  startsWith(bytes, 'RIFF') && startsWith(bytes, 'WEBP', 8);

/** Chunks of the RIFF container (RFC 9649, section 2); leaves by refusal when sizes do not fit. */
export function readWebp(bytes: Uint8Array): WebpParts {
  const file = viewOf(bytes);
  const end = 8 + file.readUInt32LE(4);
  if (end > file.length) refuseDamaged('WebP', 'it is cut off');
  const chunks = readChunks(file.subarray(0, end));
  if (chunks.some(({ name }) => name === 'ANIM' || name === 'ANMF'))
    refuseUnusual('WebP', 'a moving picture instead of a still one');
  const pictures = chunks.filter(({ name }) => name === 'VP8 ' || name === 'VP8L');
  const [picture] = pictures;
  if (!picture) refuseDamaged('WebP', 'there is no picture in it');
  if (pictures.length > 1) refuseUnusual('WebP', 'more than one picture');
  const size = picture.name === 'VP8L' ? readLosslessSize(picture.data) : readLossySize(picture.data);
  if (size.widthPx * size.heightPx > LIMIT_PX) refuseTooLarge(size.widthPx, size.heightPx, LIMIT_PX);
  checkCanvas(chunks, size);
  const find = (wanted: string) => chunks.find(({ name }) => name === wanted)?.data ?? null;
  const alpha = picture.name === 'VP8 ' && hasAlphaFlag(chunks) ? find('ALPH') : null;
  return {
    ...size,
    picture,
    alpha,
    profile: find('ICCP'),
    metadata: chunks.filter(
      ({ name, data }) => !['VP8X', 'VP8 ', 'VP8L', 'ICCP'].includes(name) && data !== alpha,
    ),
    trailing: file.subarray(end),
  };
}

/** Flags of VP8X (RFC 9649, 2.7). */
export const ALPHA = 0x10;
export const PROFILE = 0x20;

const hasAlphaFlag = (chunks: { name: string; data: Uint8Array }[]): boolean =>
  ((extended(chunks)?.data[0] ?? 0) & ALPHA) !== 0;

const extended = (chunks: { name: string; data: Uint8Array }[]) => chunks.find(({ name }) => name === 'VP8X');

function readChunks(file: Buffer): { name: string; data: Uint8Array }[] {
  const chunks: { name: string; data: Uint8Array }[] = [];
  for (let at = 12; at < file.length; ) {
    const size = file.readUInt32LE(at + 4);
    if (at + 8 + size > file.length) refuseDamaged('WebP', 'a chunk runs past the end of the file');
    chunks.push({ name: latin1At(file, at, 4), data: file.subarray(at + 8, at + 8 + size) });
    at += 8 + size + (size % 2);
  }
  return chunks;
}

function checkCanvas(
  chunks: { name: string; data: Uint8Array }[],
  size: { widthPx: number; heightPx: number },
) {
  const header = extended(chunks);
  if (!header) return;
  const view = viewOf(header.data);
  const same = 1 + view.readUIntLE(4, 3) === size.widthPx && 1 + view.readUIntLE(7, 3) === size.heightPx;
  if (!same || header.data.length !== 10) refuseDamaged('WebP', 'its sizes contradict each other');
}

/** Key frame header (RFC 6386, 9.1): start code, then 14 bits each of width and height. */
function readLossySize(data: Uint8Array) {
  const view = viewOf(data);
  const tag = view.readUIntLE(0, 3);
  const sound = (tag & 1) === 0 && latin1At(data, 3, 3) === '\x9d\x01\x2a' && 10 + (tag >> 5) <= data.length;
  const [widthPx, heightPx] = [view.readUInt16LE(6) & 0x3fff, view.readUInt16LE(8) & 0x3fff];
  if (!sound || widthPx === 0 || heightPx === 0) refuseDamaged('WebP', 'its picture header is broken');
  return { widthPx, heightPx };
}

/** Lossless header (RFC 9649, 3.4): signature, then 14 bits each of width and height less one, alpha, version 0. */
function readLosslessSize(data: Uint8Array) {
  const view = viewOf(data);
  const bits = view.readUInt32LE(1);
  if (view[0] !== 0x2f || bits >>> 29 !== 0) refuseDamaged('WebP', 'its picture header is broken');
  return { widthPx: 1 + (bits & 0x3fff), heightPx: 1 + ((bits >>> 14) & 0x3fff) };
}
