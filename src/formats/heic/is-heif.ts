import { latin1At, startsWith, viewOf } from '../bytes.js';

/** Brands of ISO/IEC 23008-12 (HEIF) with HEVC, and of AVIF, which is of the same family and held by name. */
const BRANDS = new Set([
  'heic',
  'heix',
  'heim',
  'heis',
  'hevc',
  'hevx',
  'hevm',
  'hevs',
  'mif1',
  'msf1',
  'miaf',
  'avif',
  'avis',
]);

/** The file type box: main brand, a version, then the others it is compatible with. */
export function isHeif(head: Uint8Array): boolean {
  if (!startsWith(head, 'ftyp', 4)) return false;
  const end = Math.min(viewOf(head).readUInt32BE(0), head.length, 512);
  for (let at = 8; at + 4 <= end; at += 4) if (at !== 12 && BRANDS.has(latin1At(head, at, 4))) return true;
  return false;
}
