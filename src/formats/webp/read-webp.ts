import { latin1At, sameBytes, startsWith, viewOf } from '../bytes.js';
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
  /** Frames of a moving picture, of which the first is `picture`; 1 for a still one. */
  pictures: number;
  trailing: Uint8Array;
}

export const isWebp = (bytes: Uint8Array): boolean =>
  startsWith(bytes, 'RIFF') && startsWith(bytes, 'WEBP', 8);

/** Chunks of the RIFF container (RFC 9649, section 2); leaves by refusal when sizes do not fit. */
export function readWebp(bytes: Uint8Array): WebpParts {
  const file = viewOf(bytes);
  const end = 8 + file.readUInt32LE(4);
  if (end > file.length) refuseDamaged('WebP', 'it is cut off');
  const chunks = readChunks(file.subarray(12, end));
  const frames = chunks.filter(({ name }) => name === 'ANMF');
  const still = frames.length > 0 ? firstFrame(chunks, frames[0]!) : chunks;
  const pictures = still.filter(({ name }) => name === 'VP8 ' || name === 'VP8L');
  const [picture] = pictures;
  if (!picture) refuseDamaged('WebP', 'there is no picture in it');
  if (pictures.length > 1) refuseUnusual('WebP', 'more than one picture');
  const size = picture.name === 'VP8L' ? readLosslessSize(picture.data) : readLossySize(picture.data);
  if (size.widthPx * size.heightPx > LIMIT_PX) refuseTooLarge(size.widthPx, size.heightPx, LIMIT_PX);
  checkCanvas(still, size);
  const find = (wanted: string) => still.find(({ name }) => name === wanted)?.data ?? null;
  const alpha = picture.name === 'VP8 ' && hasAlphaFlag(still) ? find('ALPH') : null;
  return {
    ...size,
    picture,
    alpha,
    profile: find('ICCP'),
    pictures: Math.max(1, frames.length),
    metadata: still.filter(
      ({ name, data }) => !['VP8X', 'VP8 ', 'VP8L', 'ICCP'].includes(name) && data !== alpha,
    ),
    trailing: file.subarray(end),
  };
}

interface Chunk {
  name: string;
  data: Uint8Array;
}

/** X, Y, width, height, duration and flags (RFC 9649, 2.7.1.1). */
const FRAME_HEAD_BYTES = 16;

/**
 * The first picture of a moving one as if it stood alone: the chunks of its frame in place of all frames. Held when
 * it is only a part of the canvas, since the rest of what a viewer shows is in no frame.
 */
function firstFrame(chunks: Chunk[], frame: Chunk): Chunk[] {
  if (chunks.some(({ name }) => name === 'VP8 ' || name === 'VP8L'))
    refuseUnusual('WebP', 'a moving picture beside a still one');
  const [head, canvas] = [viewOf(frame.data), extended(chunks)];
  if (!canvas || head.length < FRAME_HEAD_BYTES) refuseDamaged('WebP', 'its picture header is broken');
  const whole = sameBytes(head.subarray(6, 12), canvas.data.subarray(4, 10));
  if (head.readUIntLE(0, 3) !== 0 || head.readUIntLE(3, 3) !== 0 || !whole)
    refuseUnusual('WebP', 'a moving picture whose first picture is only a part of it');
  const around = chunks.filter(({ name }) => name !== 'ANMF');
  return [...around, ...readChunks(head.subarray(FRAME_HEAD_BYTES))];
}

/** Flags of VP8X (RFC 9649, 2.7). */
export const ALPHA = 0x10;
export const PROFILE = 0x20;

const hasAlphaFlag = (chunks: Chunk[]): boolean => ((extended(chunks)?.data[0] ?? 0) & ALPHA) !== 0;

const extended = (chunks: Chunk[]) => chunks.find(({ name }) => name === 'VP8X');

function readChunks(file: Buffer): Chunk[] {
  const chunks: Chunk[] = [];
  for (let at = 0; at < file.length; ) {
    const size = file.readUInt32LE(at + 4);
    if (at + 8 + size > file.length) refuseDamaged('WebP', 'a chunk runs past the end of the file');
    chunks.push({ name: latin1At(file, at, 4), data: file.subarray(at + 8, at + 8 + size) });
    at += 8 + size + (size % 2);
  }
  return chunks;
}

function checkCanvas(chunks: Chunk[], size: { widthPx: number; heightPx: number }) {
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
