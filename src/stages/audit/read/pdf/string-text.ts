/** UTF-16 or UTF-8 with a mark, else one byte a sign; ISO 32000-2, 7.9.2.2. A string without mark is also tried as UTF-8. */
export function textsOf(bytes: Uint8Array): string[] {
  const raw = Buffer.from(bytes);
  if (raw[0] === 0xfe && raw[1] === 0xff) {
    const even = Buffer.from(raw.subarray(2, raw.length - (raw.length % 2)));
    return [even.swap16().toString('utf16le')];
  }
  if (raw[0] === 0xff && raw[1] === 0xfe) return [raw.toString('utf16le', 2)];
  return [...new Set([raw.toString('latin1'), raw.toString('utf8')])];
}
