import { startsWith, viewOf } from '../../../formats/bytes.js';
import { crc32 } from '../../../formats/png/crc.js';
import { type Reading, within } from '../reading.js';
import { kindsInName, shownName } from '../search/shown-name.js';
import type { ReadNext } from './next.js';
import { TOO_MUCH, unpack } from './streams.js';

/** Signatures of APPNOTE.TXT 4.3.7, 4.3.12 and 4.3.16 (PKWARE's ZIP file format). */
const LOCAL = Buffer.from('PK\x03\x04', 'latin1');
const CENTRAL = 0x02014b50;
const END = Buffer.from('PK\x05\x06', 'latin1');

export const isZip = (bytes: Uint8Array): boolean =>
  startsWith(bytes, 'PK\x03\x04') || startsWith(bytes, 'PK\x05\x06');

interface Member {
  name: string;
  method: number;
  encrypted: boolean;
  packedBytes: number;
  crc: number;
  /** First byte of the packed data. */
  at: number;
}

const damaged = (what: string) => ({ code: 'damaged', format: 'ZIP', what }) as const;
const unusual = (what: string) => ({ code: 'unusual', format: 'ZIP', what }) as const;

/** A member of one byte a thousand times over is a bomb; coded text and pictures do not reach a hundred. */
const MOST_RATIO = 200;
const RATIO_COUNTS_FROM = 10_000_000;

/**
 * Every member the directory lists, and every member that only its own header tells of. Unread: what is encrypted,
 * packed in another way than deflate, broken, or built to unpack without end.
 */
export async function readZip(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  next: ReadNext,
): Promise<void> {
  const file = viewOf(bytes);
  const listed = listedMembers(file);
  if (listed === null) reading.unread(where, damaged('its list of members cannot be read'));
  const places = new Set(listed?.map(({ at }) => at));
  const members = [...(listed ?? []), ...hiddenMembers(file, places)].sort((a, b) => a.at - b.at);
  let last = 0;
  for (const [index, member] of members.entries()) {
    // A header inside the data of the member before is that member's business.
    if (member.at < last) continue;
    const name = `member ${shownName(member.name, index + 1, reading.search)}`;
    const place = within(where, name);
    if (!reading.enter(place)) return;
    for (const kind of kindsInName(member.name, reading.search)) reading.hit(`${place}, name`, kind);
    last = Math.max(last, await readMember(reading, file, member, place, next));
  }
}

/** @returns the first byte after the member's data */
async function readMember(
  reading: Reading,
  file: Buffer,
  member: Member,
  place: string,
  next: ReadNext,
): Promise<number> {
  const { at, method, packedBytes } = member;
  const end = at + packedBytes;
  if (member.encrypted) {
    reading.unread(place, unusual('a member that is encrypted'));
    return end;
  }
  if (method === 0) {
    if (end > file.length) reading.unread(place, damaged('it ends too early'));
    await next(file.subarray(at, end), place);
    return end;
  }
  if (method !== 8) {
    reading.unread(place, unusual('a member packed in an unknown way'));
    return end;
  }
  const inner = unpack(file.subarray(at), 'deflate', reading.room);
  if (inner.kind !== 'unpacked') {
    reading.unread(place, inner.kind === 'too-much' ? TOO_MUCH : damaged('a member cannot be unpacked'));
    return end;
  }
  const { bytes, consumed } = inner.unpacked;
  reading.unpacked(bytes.length);
  if (bytes.length > RATIO_COUNTS_FROM && bytes.length > MOST_RATIO * consumed) {
    reading.unread(place, TOO_MUCH);
    return at + consumed;
  }
  if (member.crc !== 0 && crc32(bytes) !== member.crc) reading.unread(place, damaged('a member is broken'));
  await next(bytes, place);
  return at + consumed;
}

/** The central directory; null when it is missing or does not fit the bytes. */
function listedMembers(file: Buffer): Member[] | null {
  const end = file.lastIndexOf(END);
  if (end < 0 || end + 22 > file.length) return null;
  const count = file.readUInt16LE(end + 10);
  const size = file.readUInt32LE(end + 12);
  // Bytes may stand before the archive, which shifts every place in it by as much.
  const start = end - size;
  const shift = start - file.readUInt32LE(end + 16);
  if (start < 0 || shift < 0) return null;
  const members: Member[] = [];
  for (let at = start, left = count; left > 0; left -= 1) {
    if (at + 46 > end || file.readUInt32LE(at) !== CENTRAL) return null;
    const nameBytes = file.readUInt16LE(at + 28);
    const header = file.readUInt32LE(at + 42) + shift;
    if (header + 30 > file.length) return null;
    members.push({
      name: nameOf(file.subarray(at + 46, at + 46 + nameBytes)),
      method: file.readUInt16LE(at + 10),
      encrypted: (file.readUInt16LE(at + 8) & 1) !== 0,
      packedBytes: file.readUInt32LE(at + 20),
      crc: file.readUInt32LE(at + 16),
      at: dataOf(file, header),
    });
    at += 46 + nameBytes + file.readUInt16LE(at + 30) + file.readUInt16LE(at + 32);
  }
  return members;
}

/** Members told by their own headers only: taken out of the list, but still there. */
function hiddenMembers(file: Buffer, known: ReadonlySet<number>): Member[] {
  const members: Member[] = [];
  for (let at = file.indexOf(LOCAL); at >= 0; at = file.indexOf(LOCAL, at + 4)) {
    if (at + 30 > file.length) break;
    const data = dataOf(file, at);
    const nameBytes = file.readUInt16LE(at + 26);
    if (known.has(data) || data > file.length) continue;
    members.push({
      name: nameOf(file.subarray(at + 30, at + 30 + nameBytes)),
      method: file.readUInt16LE(at + 8),
      encrypted: (file.readUInt16LE(at + 6) & 1) !== 0,
      packedBytes: file.readUInt32LE(at + 18),
      crc: file.readUInt32LE(at + 14),
      at: data,
    });
  }
  return members;
}

const dataOf = (file: Buffer, header: number): number =>
  header + 30 + file.readUInt16LE(header + 26) + file.readUInt16LE(header + 28);

/** Names are UTF-8 or an old code page; terms are searched for in either. */
const nameOf = (bytes: Buffer): string => {
  const utf8 = bytes.toString('utf8');
  return utf8.includes('\ufffd') ? bytes.toString('latin1') : utf8;
};
