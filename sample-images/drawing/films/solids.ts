/** Building blocks of chambers, cavities, decay, fillings and lesions. Millimetres, negative inside. */
import type { Part } from './beam-scene.js';
import type { Field } from './tooth-shape.js';

/** A rounded block, half sizes a, b, c, corner radius r. */
export function block(cx: number, cy: number, cz: number, a: number, b: number, c: number, r: number): Field {
  return (x, y, z) => {
    const dx = Math.abs(x - cx) - a + r;
    const dy = Math.abs(y - cy) - b + r;
    const dz = Math.abs(z - cz) - c + r;
    const out = Math.sqrt(Math.max(0, dx) ** 2 + Math.max(0, dy) ** 2 + Math.max(0, dz) ** 2);
    return out + Math.min(0, Math.max(dx, dy, dz)) - r;
  };
}

export function anyOf(...fields: readonly Field[]): Field {
  return (x, y, z) => {
    let nearest = 99;
    for (const field of fields) nearest = Math.min(nearest, field(x, y, z));
    return nearest;
  };
}

/** A pointed pulp horn from its foot to its tip. */
export function horn(x0: number, y0: number, z0: number, z1: number, radius: number, lean = 0.25): Field {
  return (x, y, z) => {
    const t = Math.min(1, Math.max(0, (z - z0) / (z1 - z0)));
    const r = radius * (1 - 0.85 * t);
    const fx = x - x0 * (1 + lean * t);
    const fy = y - y0 * (1 + lean * t);
    const above = Math.max(0, z - z1, z0 - z);
    return Math.sqrt(fx * fx + fy * fy + above * above) - r;
  };
}

/**
 * A molar's chamber: roof at the neck with a dip in its middle, horns at the corners, floor bulging upwards and
 * running down into the canals at the sides. Its cheek and tongue walls are curved, so its edges fade on a film.
 */
export function molarChamber(
  x0: number,
  halfMd: number,
  halfBl: number,
  roofZ: number,
  floorZ: number,
): Field {
  return (x, y, z) => {
    const u = (x - x0) / halfMd;
    const u2 = u * u;
    const top = roofZ - 0.15 + 0.75 * u2 * u2;
    const low = floorZ + 0.3 - 0.55 * u2;
    const v = y / halfBl;
    const w = (z - (top + low) / 2) / Math.max(0.3, (top - low) / 2);
    const norm = Math.sqrt(Math.sqrt(u2 * u2 + (v * v + 0.5 * w * w * (1 + w * w)) ** 2));
    return (norm - 1) * 0.75;
  };
}

/** A premolar's chamber: a flat spindle. */
export function spindle(x0: number, y0: number, z0: number, a: number, b: number, c: number): Field {
  return (x, y, z) => {
    const norm = Math.sqrt(((x - x0) / a) ** 2 + ((y - y0) / b) ** 2 + ((z - z0) / c) ** 2);
    return (norm - 1) * a;
  };
}

/** An uneven ball. */
export function ball(x0: number, y0: number, z0: number, a: number, b: number, c: number): Field {
  return (x, y, z) => {
    const wave = 0.12 * Math.sin(3.1 * x + 1.3 * y) + 0.1 * Math.sin(2.7 * z - 2.2 * y + 1);
    const norm = Math.sqrt(((x - x0) / a) ** 2 + ((y - y0) / b) ** 2 + ((z - z0) / c) ** 2);
    return (norm - 1 + wave) * Math.min(a, b, c);
  };
}

/** Decay fades into sound dentine: shells within shells, the outer ones only a little softened. */
export function decay(x: number, y: number, z: number, a: number, b: number, c: number): Part[] {
  return [1, 0.92, 0.84, 0.76, 0.68, 0.6].map((size, i) => ({
    field: ball(x, y, z, a * size, b * size, c * size),
    opacity: 0.72 - 0.11 * i,
  }));
}

/** 0 inside, 1 outside, with a soft border: bone that is lost. */
export function fadedBall(x0: number, z0: number, a: number, b: number, c: number): Field {
  return (x, y, z) => {
    const norm = Math.sqrt(((x - x0) / a) ** 2 + (y / b) ** 2 + ((z - z0) / c) ** 2);
    const t = Math.min(1, Math.max(0, (norm - 0.86) / 0.24));
    return t * t * (3 - 2 * t);
  };
}
