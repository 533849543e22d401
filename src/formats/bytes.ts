/** A Buffer over the same memory: its searches and typed reads are native. */
export const viewOf = (bytes: Uint8Array): Buffer =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Latin-1 text of `length` bytes from `at`; shorter at the end of the file. */
export const latin1At = (bytes: Uint8Array, at: number, length: number): string =>
  viewOf(bytes).toString('latin1', Math.min(at, bytes.length), Math.min(at + length, bytes.length));

export const startsWith = (bytes: Uint8Array, text: string, at = 0): boolean =>
  bytes.length >= at + text.length && latin1At(bytes, at, text.length) === text;

export const sameBytes = (a: Uint8Array, b: Uint8Array): boolean => viewOf(a).equals(viewOf(b));

export const latin1Bytes = (text: string): Buffer => Buffer.from(text, 'latin1');

/** One more entry of a kind in a tally. */
export function tally(counts: Record<string, number>, kind: string, by = 1): void {
  if (by > 0) counts[kind] = (counts[kind] ?? 0) + by;
}
