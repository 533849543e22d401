const SIGNATURE_LENGTH = 8;
/** What a picture needs and nothing else (PNG third edition, section 5.6). */
const NEEDED = new Set(['IHDR', 'IDAT', 'IEND']);

/** The same PNG with its critical chunks only: the encoder adds a resolution that nobody measured. */
export function keepNeededChunks(png: Buffer): Buffer {
  const parts = [png.subarray(0, SIGNATURE_LENGTH)];
  for (let at = SIGNATURE_LENGTH; at + 12 <= png.length; ) {
    const end = at + 12 + png.readUInt32BE(at);
    if (NEEDED.has(png.toString('latin1', at + 4, at + 8))) parts.push(png.subarray(at, end));
    at = end;
  }
  return Buffer.concat(parts);
}
