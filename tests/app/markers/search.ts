import { inflateRawSync, inflateSync } from 'node:zlib';

/** Packed data within packed data, this deep. */
const MOST_DEEP = 4;
/** What takes in half a stream as well: Z_SYNC_FLUSH. */
const OPTIONS = { finishFlush: 2, maxOutputLength: 1 << 26 };

/** Numbers of the marks in any byte, packed or not; a mark of which only a part is left counts as "cut". */
export function marksIn(bytes: Buffer): Set<number | 'cut'> {
  const found = new Set<number | 'cut'>();
  for (const part of unpacked(bytes)) {
    const text = part.toString('latin1').toLowerCase();
    for (const [pattern, base] of PATTERNS)
      for (const hit of text.matchAll(pattern)) {
        const digits = hit.slice(1).join('');
        found.add(digits === '' ? 'cut' : Number(digits) - base);
      }
  }
  return found;
}

/** In lower case, since some fields are all capitals; the same zeros stand between letters in both UTF-16. */
const PATTERNS: [RegExp, number][] = [
  [/zqxmar(?:ker(\d{4}))?/g, 0],
  [/z\0q\0x\0m\0a\0r(?:\0k\0e\0r\0(\d)\0(\d)\0(\d)\0(\d))?/g, 0],
  [/\.771730\.(\d{4})/g, 1000],
  [/zqxt(\d{3})/g, 0],
];

/** The tail of a mark in Latin-1, UTF-8 and UTF-16, by itself. */
const TAILS = [/v(?:\xe4|\xe3\xa4)ndersample/, /v\0\xe4\0n\0d\0e\0r\0s/, /v\0\xe4\0n\0d/];
export const holdsTail = (bytes: Buffer): boolean =>
  unpacked(bytes).some((part) => {
    const text = part.toString('latin1').toLowerCase();
    return TAILS.some((tail) => tail.test(text));
  });

/** The bytes, and all that is packed in them: zlib streams, members of archives, hex and base64. */
function unpacked(bytes: Buffer, depth = 0): Buffer[] {
  if (depth === MOST_DEEP) return [];
  const inside = [...zlibStreams(bytes), ...rawStreams(bytes), ...spelled(bytes)];
  return [bytes, ...inside.flatMap((part) => unpacked(part, depth + 1))];
}

/** RFC 1950: method 8, a window of at most 32 KB, and a check of the two bytes. */
function* zlibStreams(bytes: Buffer): Generator<Buffer> {
  for (let at = 0; at + 2 < bytes.length; at++) {
    const head = bytes[at]!;
    if ((head & 15) !== 8 || head > 0x78 || ((head << 8) | bytes[at + 1]!) % 31 !== 0) continue;
    if ((bytes[at + 1]! & 32) !== 0) continue;
    const part = opened(() => inflateSync(bytes.subarray(at), OPTIONS));
    if (part) yield part;
  }
}

/** Members of a ZIP, by their local headers, and a DICOM data set that is deflated as a whole. */
function* rawStreams(bytes: Buffer): Generator<Buffer> {
  for (let at = bytes.indexOf('PK\x03\x04'); at >= 0; at = bytes.indexOf('PK\x03\x04', at + 1)) {
    if (at + 30 > bytes.length) return;
    const from = at + 30 + bytes.readUInt16LE(at + 26) + bytes.readUInt16LE(at + 28);
    const part = opened(() => inflateRawSync(bytes.subarray(from), OPTIONS));
    if (part) yield part;
  }
  if (bytes.toString('latin1', 128, 132) !== 'DICM') return;
  const from = 144 + bytes.readUInt32LE(140);
  if (!bytes.subarray(0, from).includes('1.2.840.10008.1.2.1.99')) return;
  const part = opened(() => inflateRawSync(bytes.subarray(from), OPTIONS));
  if (part) yield part;
}

function opened(open: () => Buffer): Buffer | null {
  try {
    const part = open();
    return part.length > 0 ? part : null;
  } catch {
    return null; // no packed data after all
  }
}

/** Runs of hex digits and of base64, read from each place where one may begin. */
function* spelled(bytes: Buffer): Generator<Buffer> {
  const plain = bytes.toString('latin1');
  yield* spelledIn(plain);
  // the same in UTF-16
  if (plain.includes('\0')) yield* spelledIn(plain.replaceAll('\0', ''));
}

function* spelledIn(text: string): Generator<Buffer> {
  for (const [run] of text.matchAll(/(?:[0-9a-fA-F]{2}[\r\n]*){12,}/g)) {
    const digits = run.replace(/[\r\n]/g, '');
    yield Buffer.from(digits, 'hex');
    yield Buffer.from(digits.slice(1), 'hex');
  }
  for (const [run] of text.matchAll(/[A-Za-z0-9+/][A-Za-z0-9+/\r\n]{15,}/g)) {
    const signs = run.replace(/[\r\n]/g, '');
    for (let from = 0; from < 4; from++) yield Buffer.from(signs.slice(from), 'base64');
  }
}
