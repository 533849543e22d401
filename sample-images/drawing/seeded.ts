/** Seeded numbers for the sample drawings: the same seed gives the same picture on every run. */

/** A 32-bit hash of up to three whole numbers and a seed (integer finaliser, own constants order). */
export function hash32(a: number, b: number, c: number, seed: number): number {
  let h = (seed | 0) ^ Math.imul(a | 0, 0x27d4eb2d);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b) ^ Math.imul(b | 0, 0x165667b1);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35) ^ Math.imul(c | 0, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
  return (h ^ (h >>> 16)) >>> 0;
}

/** The same hash as a number from 0 up to, not including, 1. */
export function unitHash(a: number, b: number, c: number, seed: number): number {
  return hash32(a, b, c, seed) / 4294967296;
}

/** A nearly normal number (mean 0, sd 1) that belongs to one place: sum of four uniforms, so it never
 *  leaves +/-3.5 and needs no logarithm. */
export function normalHash(a: number, b: number, c: number, seed: number): number {
  const h = hash32(a, b, c, seed);
  const g = hash32(b, a, c + 7, seed);
  const sum = (h & 0xffff) + (h >>> 16) + (g & 0xffff) + (g >>> 16);
  return (sum / 65535 - 2) * 1.7320508;
}
