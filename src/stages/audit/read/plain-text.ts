import { type Reading, within } from '../reading.js';
import type { ReadNext } from './next.js';
import { isXml, readXml } from './xml-text.js';

const STRICT_UTF8 = new TextDecoder('utf-8', { fatal: true });

/** Bytes as text, or null when they are none: UTF-8, UTF-16 with its mark, else one byte a sign without controls. */
export function textOf(bytes: Uint8Array): string | null {
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (head[0] === 0xff && head[1] === 0xfe) return head.toString('utf16le', 2);
  if (head[0] === 0xfe && head[1] === 0xff) {
    return Buffer.from(head.subarray(2, head.length - (head.length % 2)))
      .swap16()
      .toString('utf16le');
  }
  if (hasControls(head)) return null;
  try {
    return STRICT_UTF8.decode(bytes);
  } catch {
    return head.toString('latin1');
  }
}

/** Signs below the space that text holds: tab, line ends, form feed, and the escape of terminals. */
const IN_TEXT = new Set([9, 10, 11, 12, 13, 27]);

const hasControls = (bytes: Uint8Array): boolean =>
  bytes.some((byte) => byte === 0x7f || (byte < 32 && !IN_TEXT.has(byte)));

const DATA_LINK = /data:[a-z]+\/[a-z0-9.+-]+(?:;[a-z0-9=-]+)*;base64,([A-Za-z0-9+/=\s]{16,})/gi;

/** Text, XML and what is packed into it as data links. */
export async function readPlainText(
  reading: Reading,
  text: string,
  where: string,
  next: ReadNext,
): Promise<void> {
  const packed = [...text.matchAll(DATA_LINK)].map(([, data = '']) => data);
  const bare = packed.length === 0 ? text : text.replace(DATA_LINK, ' ');
  const place = within(where, 'text');
  if (isXml(bare)) readXml(reading, bare, place);
  else if (!readJson(reading, bare, place)) {
    reading.text(place, bare);
    // A name may be broken at the end of a line.
    reading.text(place, reading.mask(bare).replace(/[-\u00ad]?\r?\n[ \t]*/g, ''), { ofProgram: true });
  }
  for (const [at, data] of packed.entries()) {
    await next(Buffer.from(data, 'base64'), within(where, `packed data ${at + 1}`));
  }
}

/** Keys and strings are text; bare numbers are sizes and places of a program's making. False when it is no JSON. */
function readJson(reading: Reading, text: string, where: string): boolean {
  if (!/^\s*[[{]/.test(text)) return false;
  try {
    JSON.parse(text);
  } catch {
    return false;
  }
  const strings = text.match(/"(?:\\.|[^"\\])*"/g) ?? [];
  const said = strings.map((one) => String(JSON.parse(one)));
  reading.text(where, said.join(' \u00b7 \n'));
  reading.text(where, text, { ofProgram: true });
  return true;
}
