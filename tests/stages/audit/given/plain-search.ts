import { inflateSync } from 'node:zlib';

/** The bytes of a file and of everything in it that can be inflated: what a search without a reader of PDF sees. */
export function unpackedParts(bytes: Buffer): Buffer[] {
  const parts = [bytes];
  for (let at = bytes.indexOf(0x78); at >= 0; at = bytes.indexOf(0x78, at + 1)) {
    if (((0x78 << 8) | (bytes[at + 1] ?? 0)) % 31 !== 0) continue;
    try {
      parts.push(inflateSync(bytes.subarray(at), { finishFlush: 2 }));
    } catch {
      // Not a zlib stream after all.
    }
  }
  return parts;
}
