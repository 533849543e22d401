import { inflateSync } from 'node:zlib';
import { viewOf } from '../bytes.js';
import { isCanonicalProfile } from '../colour-profile/index.js';

const ALLOWED = new Set([
  'IHDR',
  'PLTE',
  'IDAT',
  'IEND',
  'tRNS',
  'gAMA',
  'cHRM',
  'sRGB',
  'sBIT',
  'bKGD',
  'pHYs',
  'cICP',
  'iCCP',
]);

/** Signature, length and name of IHDR, size and depth stand before it (ISO/IEC 15948, 11.2.2); 3 is a palette. */
const COLOUR_TYPE_AT = 25;

/** A straight second walk: which chunks are there, and does the file end with IEND. */
export function pngLeftovers(bytes: Uint8Array): string[] {
  const file = viewOf(bytes);
  const found = new Set<string>();
  let at = 8;
  let name = '';
  while (name !== 'IEND' && at + 12 <= file.length) {
    const length = file.readUInt32BE(at);
    name = file.toString('latin1', at + 4, at + 8);
    if (!ALLOWED.has(name)) found.add('unknown-chunk');
    if (name === 'PLTE' && file[COLOUR_TYPE_AT] !== 3) found.add('palette');
    if (name === 'iCCP' && !isOurs(file.subarray(at + 8, at + 8 + length))) found.add('icc');
    at += 12 + length;
  }
  if (name !== 'IEND' || at !== file.length) found.add('bytes-outside-chunks');
  return [...found];
}

function isOurs(data: Buffer): boolean {
  try {
    const profile = inflateSync(data.subarray(5), { maxOutputLength: 200_000 });
    return data.toString('latin1', 0, 5) === 'icc\0\0' && isCanonicalProfile(profile);
  } catch {
    return false;
  }
}
