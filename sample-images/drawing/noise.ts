/** Smooth seeded noise in the plane, for bone, dentine and other grown things. */
import { hash32, unitHash } from './seeded.js';

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

const DIRECTIONS: readonly (readonly [number, number])[] = Array.from({ length: 32 }, (_, index) => {
  const angle = (index / 32) * 2 * Math.PI;
  return [Math.cos(angle), Math.sin(angle)] as const;
});

function lattice(ix: number, iy: number, dx: number, dy: number, seed: number): number {
  const direction = DIRECTIONS[hash32(ix, iy, 0, seed) & 31]!;
  return direction[0] * dx + direction[1] * dy;
}

/** Gradient noise, about -1 to 1, feature size about 1. */
export function smoothNoise(x: number, y: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const dx = x - ix;
  const dy = y - iy;
  const u = fade(dx);
  const v = fade(dy);
  const top = lattice(ix, iy, dx, dy, seed) * (1 - u) + lattice(ix + 1, iy, dx - 1, dy, seed) * u;
  const low =
    lattice(ix, iy + 1, dx, dy - 1, seed) * (1 - u) + lattice(ix + 1, iy + 1, dx - 1, dy - 1, seed) * u;
  return (top * (1 - v) + low * v) * 1.5;
}

/** Several octaves of smooth noise, each half the size and half the strength of the one before. */
export function layeredNoise(x: number, y: number, octaves: number, seed: number): number {
  let sum = 0;
  let weight = 1;
  let total = 0;
  let scale = 1;
  for (let octave = 0; octave < octaves; octave++) {
    sum += weight * smoothNoise(x * scale + octave * 13.7, y * scale - octave * 7.3, seed + octave);
    total += weight;
    weight *= 0.5;
    scale *= 2.03;
  }
  return sum / total;
}

/** Distance to the border between the two nearest of scattered points (0 on the border), cells of size 1. */
export function cellBorder(x: number, y: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  let nearest = 9;
  let second = 9;
  for (let row = -1; row <= 1; row++) {
    for (let column = -1; column <= 1; column++) {
      const cx = ix + column;
      const cy = iy + row;
      const px = cx + unitHash(cx, cy, 1, seed) - x;
      const py = cy + unitHash(cx, cy, 2, seed) - y;
      const distance = px * px + py * py;
      if (distance < nearest) {
        second = nearest;
        nearest = distance;
      } else if (distance < second) second = distance;
    }
  }
  return Math.sqrt(second) - Math.sqrt(nearest);
}
