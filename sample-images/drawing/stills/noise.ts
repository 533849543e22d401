/** Seeded gradient noise: the only source of irregularity in the stills. Same seed, same picture. */
export type Noise = (x: number, y: number) => number;

const hash = (seed: number, i: number, j: number): number => {
  let h = (seed ^ Math.imul(i, 0x27d4eb2d) ^ Math.imul(j, 0x165667b1)) | 0;
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  h = Math.imul(h ^ (h >>> 12), 0x297a2d39);
  return (h ^ (h >>> 15)) >>> 0;
};

const DIRECTIONS = Array.from({ length: 64 }, (_, k) => (k * Math.PI) / 32);
const COS = Float64Array.from(DIRECTIONS, Math.cos);
const SIN = Float64Array.from(DIRECTIONS, Math.sin);
const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Smooth noise of about -1..1 with features one unit wide. */
export const makeNoise = (seed: number): Noise => {
  const corner = (i: number, j: number, dx: number, dy: number): number => {
    const k = hash(seed, i, j) & 63;
    return COS[k]! * dx + SIN[k]! * dy;
  };
  return (x, y) => {
    const i = Math.floor(x);
    const j = Math.floor(y);
    const dx = x - i;
    const dy = y - j;
    const a = corner(i, j, dx, dy);
    const b = corner(i + 1, j, dx - 1, dy);
    const c = corner(i, j + 1, dx, dy - 1);
    const d = corner(i + 1, j + 1, dx - 1, dy - 1);
    const u = fade(dx);
    const top = a + (b - a) * u;
    return 1.5 * (top + (c + (d - c) * u - top) * fade(dy));
  };
};

/** Octaves of noise, each half as large and half as strong; about -1..1. */
export const layered = (noise: Noise, octaves: number): Noise => {
  return (x, y) => {
    let sum = 0;
    let weight = 1;
    let scale = 1;
    for (let k = 0; k < octaves; k++) {
      sum += weight * noise(x * scale + 17.3 * k, y * scale - 9.1 * k);
      weight *= 0.5;
      scale *= 2.03;
    }
    return sum * 0.6;
  };
};

/** A stream of numbers 0..1 (mulberry32). */
export const makeStream = (seed: number): (() => number) => {
  let s = seed | 0;
  return () => {
    s = (s + 0x6d2b79f5) | 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};
