import type { FormatName } from '../../../../core/format-name.js';
import { latin1At, startsWith, viewOf } from '../../../../formats/bytes.js';
import { type Reading, within } from '../../reading.js';
import { unpack } from '../streams.js';
import { readXml } from '../xml-text.js';

/** The blocks around the pixels of a picture, walked by hand: comments, application segments, text chunks, what follows the end. */
export function readBlocks(reading: Reading, bytes: Uint8Array, where: string, format: FormatName): void {
  if (format === 'JPEG') readSegments(reading, bytes, where);
  if (format === 'PNG') readChunks(reading, bytes, where);
  if (format === 'WebP') readRiff(reading, bytes, where);
}

/** Printable stretches of a block, in one byte a sign and in UTF-16; packets of XML as such. */
function readBlock(reading: Reading, block: Uint8Array, where: string): void {
  if (block.length === 0) return;
  reading.bytes(where, block);
  const file = viewOf(block);
  const utf8 = file.toString('utf8');
  const packet = utf8.search(/<(?:\?xpacket|x:xmpmeta|rdf:RDF)/);
  if (packet >= 0) readXml(reading, utf8.slice(packet).replace(/\0/g, ' '), where);
  const wide = [file, file.subarray(1)].map((part) => part.toString('utf16le'));
  const turned = Buffer.from(file.subarray(0, file.length - (file.length % 2)))
    .swap16()
    .toString('utf16le');
  for (const text of packet >= 0 ? [...wide, turned] : [utf8, ...wide, turned]) {
    for (const [run] of text.matchAll(/[\t\n\r\x20-\x7e\u00a0-\u052f]{6,}/g)) reading.text(where, run);
  }
}

/** Segments up to and between scans (ITU-T T.81, B.1), and all that stands after the end of the picture. */
function readSegments(reading: Reading, bytes: Uint8Array, where: string): void {
  const file = viewOf(bytes);
  let at = 2;
  while (at + 4 <= file.length) {
    if (file[at] !== 0xff) {
      at = nextMarker(file, at);
      continue;
    }
    const marker = file[at + 1]!;
    if (marker === 0xff || marker === 0 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += marker === 0xff ? 1 : 2;
      continue;
    }
    if (marker === 0xd9) {
      readBlock(reading, file.subarray(at + 2), within(where, 'after the end'));
      return;
    }
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (marker === 0xfe || (marker >= 0xe0 && marker <= 0xef)) {
      const name = marker === 0xfe ? 'comment' : `APP${marker - 0xe0} segment`;
      readBlock(reading, file.subarray(at + 4, end), within(where, name));
    }
    at = marker === 0xda ? nextMarker(file, end) : end;
  }
}

/** The next marker after coded data: FF that is not followed by a stuffed zero or a restart. */
function nextMarker(file: Buffer, from: number): number {
  for (let at = file.indexOf(0xff, from); at >= 0; at = file.indexOf(0xff, at + 1)) {
    const next = file[at + 1] ?? 0;
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  return file.length;
}

/** Chunks that hold numbers only (ISO/IEC 15948, clause 11). */
const NUMBERS = new Set([
  'IHDR',
  'PLTE',
  'IEND',
  'tRNS',
  'gAMA',
  'cHRM',
  'sRGB',
  'sBIT',
  'bKGD',
  'pHYs',
  'cICP',
  'hIST',
]);

function readChunks(reading: Reading, bytes: Uint8Array, where: string): void {
  const file = viewOf(bytes);
  const picture: Buffer[] = [];
  let at = 8;
  while (at + 12 <= file.length) {
    const length = file.readUInt32BE(at);
    const name = latin1At(bytes, at + 4, 4);
    const data = file.subarray(at + 8, at + 8 + length);
    const place = within(where, `${/^[A-Za-z]{4}$/.test(name) ? name : 'unnamed'} chunk`);
    if (name === 'IDAT') picture.push(data);
    else if (name === 'acTL' || name === 'fdAT')
      reading.unread(within(where, 'further frames'), {
        code: 'unusual',
        format: 'PNG',
        what: 'an animation',
      });
    else if (!NUMBERS.has(name)) readChunk(reading, name, data, place);
    at += 12 + length;
    if (name === 'IEND') break;
  }
  readBlock(reading, file.subarray(at), within(where, 'after the end'));
  const joined = Buffer.concat(picture);
  const pixels = unpack(joined, 'zlib', reading.room);
  if (pixels.kind === 'unpacked') {
    readBlock(reading, joined.subarray(pixels.unpacked.consumed), within(where, 'after the pixels'));
  }
}

function readChunk(reading: Reading, name: string, data: Buffer, where: string): void {
  if (name === 'tIME') reading.hit(where, 'date');
  readBlock(reading, data, where);
  // zTXt, iTXt and iCCP hold their text packed, after a keyword and one to four signs.
  for (let at = data.indexOf(0); at >= 0 && at < 200; at = data.indexOf(0, at + 1)) {
    for (const start of [at + 1, at + 2]) {
      const inner = unpack(data.subarray(start), 'zlib', reading.room);
      if (inner.kind !== 'unpacked') continue;
      reading.unpacked(inner.unpacked.bytes.length);
      readBlock(reading, inner.unpacked.bytes, where);
    }
  }
}

/** Chunks of a RIFF file (WebP container, RFC 9649): pixels are left to the decoder, all else is read. */
function readRiff(reading: Reading, bytes: Uint8Array, where: string): void {
  const file = viewOf(bytes);
  const whole = Math.min(8 + file.readUInt32LE(4), file.length);
  for (let at = 12; at + 8 <= whole; ) {
    const name = latin1At(bytes, at, 4);
    const length = file.readUInt32LE(at + 4);
    const place = within(where, `${name.trim().replace(/[^\w ]/g, '?')} chunk`);
    if (name === 'ANIM' || name === 'ANMF')
      reading.unread(within(where, 'further frames'), {
        code: 'unusual',
        format: 'WebP',
        what: 'an animation',
      });
    else if (!['VP8 ', 'VP8L', 'VP8X', 'ALPH'].includes(name))
      readBlock(reading, file.subarray(at + 8, at + 8 + length), place);
    at += 8 + length + (length % 2);
  }
  if (!startsWith(bytes, 'RIFF')) return;
  readBlock(reading, file.subarray(whole), within(where, 'after the end'));
}
