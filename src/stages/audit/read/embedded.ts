import { viewOf } from '../../../formats/bytes.js';
import { within } from '../reading.js';
import type { ReadNext } from './next.js';

/** What a file of another kind begins with; thumbnails, second pictures and appended archives are found by it. */
const BEGINNINGS = {
  zip: Buffer.from('PK\x03\x04', 'latin1'),
  jpeg: Buffer.from([0xff, 0xd8, 0xff]),
  png: Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
  pdf: Buffer.from('%PDF-', 'latin1'),
} as const;

export type EmbeddedKind = keyof typeof BEGINNINGS;

/**
 * The first file of each kind that begins inside this one, after its first byte. It is read to the end of the bytes and
 * finds the next one in itself.
 */
export async function readEmbedded(
  bytes: Uint8Array,
  where: string,
  kinds: readonly EmbeddedKind[],
  next: ReadNext,
): Promise<void> {
  const file = viewOf(bytes);
  for (const kind of kinds) {
    const at = firstOf(file, kind);
    if (at > 0) await next(file.subarray(at), within(where, `${kind.toUpperCase()} inside`));
  }
}

function firstOf(file: Buffer, kind: EmbeddedKind): number {
  for (let at = file.indexOf(BEGINNINGS[kind], 1); at >= 0; at = file.indexOf(BEGINNINGS[kind], at + 1)) {
    if (kind === 'jpeg' ? isJpegAt(file, at) : kind === 'zip' ? isMemberAt(file, at) : true) return at;
  }
  return -1;
}

/** Three bytes stand in packed data by chance; a row of segments up to a scan does not (ITU-T T.81, B.1.1). */
function isJpegAt(file: Buffer, start: number): boolean {
  let hasFrame = false;
  for (let at = start + 2; at + 4 <= file.length; ) {
    const marker = file[at + 1]!;
    if (file[at] !== 0xff || marker < 0xc0 || marker === 0xff) return false;
    if (marker === 0xda) return hasFrame;
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) hasFrame = true;
    at += 2 + file.readUInt16BE(at + 2);
  }
  return false;
}

/** A local header that could be one: a version there is, a way of packing there is, a name of some length. */
function isMemberAt(file: Buffer, at: number): boolean {
  if (at + 30 > file.length) return false;
  const method = file.readUInt16LE(at + 8);
  const nameBytes = file.readUInt16LE(at + 26);
  return file.readUInt16LE(at + 4) < 100 && method < 100 && nameBytes > 0 && nameBytes < 1024;
}
