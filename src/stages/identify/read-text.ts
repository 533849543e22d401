/** Text of unknown coding: UTF-16 when it has a mark or every second byte is zero, else UTF-8, else Latin-1. */
export function readText(bytes: Uint8Array): string {
  return clean(decode(bytes));
}

function decode(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return readUtf16(bytes.subarray(2), 'le');
  if (first === 0xfe && second === 0xff) return readUtf16(bytes.subarray(2), 'be');
  const zeros = [0, 1].map((parity) => bytes.filter((byte, at) => at % 2 === parity && byte === 0).length);
  const most = bytes.length / 2;
  if (bytes.length >= 4 && zeros[1]! > 0.6 * most && zeros[0]! < 0.2 * most) return readUtf16(bytes, 'le');
  if (bytes.length >= 4 && zeros[0]! > 0.6 * most && zeros[1]! < 0.2 * most) return readUtf16(bytes, 'be');
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return Buffer.from(bytes).toString('latin1');
  }
}

const readUtf16 = (bytes: Uint8Array, order: 'le' | 'be'): string =>
  new TextDecoder(`utf-16${order}`).decode(bytes);

/** EXIF UserComment: eight bytes name the coding (EXIF 2.32, 4.6.5); cameras write both orders of UTF-16. */
export function readUserComment(bytes: Uint8Array): string {
  const named = /^(ASCII|UNICODE|JIS)\0|^\0{8}/.test(Buffer.from(bytes.subarray(0, 8)).toString('latin1'));
  return readText(named ? bytes.subarray(8) : bytes);
}

/** The XP fields of EXIF are UTF-16, little endian. */
export const readXpField = (bytes: Uint8Array): string => clean(readUtf16(bytes, 'le'));

/** Runs of printable ASCII in bytes that nothing else can read. */
export function readPrintable(bytes: Uint8Array, shortest = 6, most = 60): string[] {
  const text = Buffer.from(bytes.subarray(0, 200_000)).toString('latin1');
  return (text.match(new RegExp(`[\\x20-\\x7e\\xc0-\\xff]{${shortest},200}`, 'g')) ?? [])
    .filter((run) => /[A-Za-z]{3}|\d{5}/.test(run))
    .slice(0, most)
    .map(clean);
}

/** Longer than any note a person types into a camera. */
const LONGEST = 2000;

function clean(text: string): string {
  return text
    .replace(/[^\P{Cc}\n\t]+/gu, ' ')
    .trim()
    .slice(0, LONGEST);
}
