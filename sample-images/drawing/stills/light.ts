import { blurred } from './blur.js';
import { clamp01, mix, ramp } from './curves.js';
import { type Ground, regionNumber } from './ground.js';
import { makeNoise } from './noise.js';

export interface LightOptions {
  seed: number;
  /** How wet the field is, 0 (just dried) to 1: strength and number of highlights. */
  wetness: number;
  /** Tilt of the two lamps against the line of sight, radians, right and up. */
  lamps: readonly (readonly [right: number, up: number])[];
}

export interface Lit {
  red: Float32Array;
  green: Float32Array;
  blue: Float32Array;
}

/** Slopes of a height plane, mm per mm, to the right and up. */
const slopesOf = (g: Ground, z: Float32Array): { right: Float32Array; up: Float32Array } => {
  const { width, height, pxPerMm } = g;
  const right = new Float32Array(z.length);
  const up = new Float32Array(z.length);
  for (let j = 0; j < height; j++)
    for (let i = 0; i < width; i++) {
      const k = j * width + i;
      const a = i > 0 ? k - 1 : k;
      const b = i < width - 1 ? k + 1 : k;
      const c = j > 0 ? k - width : k;
      const d = j < height - 1 ? k + width : k;
      right[k] = ((z[b]! - z[a]!) * pxPerMm) / Math.max(1, b - a);
      up[k] = ((z[c]! - z[d]!) * pxPerMm * width) / Math.max(1, d - c);
    }
  return { right, up };
};

/** How far the surroundings overtop each cell, at a small, a middle and a wide reach; 0 open, more = hidden. */
const hollowOf = (g: Ground): Float32Array => {
  const sum = new Float32Array(g.z.length);
  for (const [reachMm, weight] of [
    [0.1, 0.5],
    [0.4, 0.6],
    [1.5, 0.5],
  ] as const) {
    const mean = blurred(g.z, g.width, g.height, reachMm * g.pxPerMm);
    for (let k = 0; k < sum.length; k++) {
      const over = (mean[k]! - g.z[k]!) / reachMm;
      if (over > 0) sum[k] = sum[k]! + weight * Math.min(over, 2.2);
      else sum[k] = sum[k]! + 0.25 * weight * Math.max(over, -0.6);
    }
  }
  return sum;
};

const WALL = regionNumber('wall');
/** Hard and even surfaces. */
const SMOOTH = (['enamel', 'composite', 'seal'] as const).map(regionNumber);

/** Polished metal shows the lamp where it faces it and dark surroundings with soft bands elsewhere. */
const metalShine = (nx: number, ny: number, nz: number, wobble: number): number => {
  const facing = clamp01(nz);
  const band = 0.5 + 0.5 * Math.sin(7 * nx + 4 * ny + 2.2 * wobble);
  const edge = 1 - facing;
  return (
    0.1 +
    0.5 * band * band * Math.min(1, edge * 2.2) +
    0.5 * facing ** 9 +
    0.16 * wobble * facing +
    1.5 * facing ** 90
  );
};

/** Lights the scene from the eye: coaxial lamp, light from the walls around, light spread inside, wet highlights. */
export const light = (g: Ground, options: LightOptions): Lit => {
  const { width, height, pxPerMm } = g;
  const size = g.z.length;
  const { right, up } = slopesOf(g, blurred(g.z, width, height, 0.012 * pxPerMm));
  const film = slopesOf(g, blurred(g.z, width, height, 0.1 * pxPerMm));
  const hollow = hollowOf(g);
  const ripple = makeNoise(options.seed);
  const shine = new Float32Array(size);
  const irradiance = new Float32Array(size);
  const lit: Lit = {
    red: new Float32Array(size),
    green: new Float32Array(size),
    blue: new Float32Array(size),
  };
  for (let k = 0; k < size; k++) {
    const sx = right[k]!;
    const sy = up[k]!;
    const nz = 1 / Math.sqrt(1 + sx * sx + sy * sy);
    const nx = -sx * nz;
    const ny = -sy * nz;
    const open =
      Math.exp((g.region[k] === WALL ? -0.28 : -0.55) * Math.max(0, hollow[k]!)) *
      (1 + 0.12 * Math.max(0, -hollow[k]!));
    // gentle slopes shade as matt surfaces do; steep walls live on light thrown at them by the opposite wall
    const slant = nz + (g.region[k] === 0 ? 0.65 : 0.42) * (nx * 0.6 + ny * 0.8);
    const direct = Math.max(g.region[k] === WALL ? 0.8 : 0.34, slant) ** (slant > 0.6 ? 1.7 : 0.95);
    irradiance[k] = (0.7 * direct + 0.36 * open ** 1.6) * (0.72 + 0.28 * open);
    if (g.metal[k]! > 0) {
      const w = ripple(g.x[k]! * 0.6, g.y[k]! * 0.6);
      irradiance[k] = mix(irradiance[k]!, metalShine(nx, ny, nz, w) * (0.55 + 0.45 * open), g.metal[k]!);
    }
    const wet = g.wet[k]! * options.wetness;
    if (wet > 0.01) shine[k] = wet * highlight(g, k, film.right[k]!, film.up[k]!, ripple, options);
  }
  const spread = blurred(irradiance, width, height, 0.1 * pxPerMm);
  const wide = blurred(irradiance, width, height, 0.3 * pxPerMm);
  for (let k = 0; k < size; k++) {
    const glow = g.glow[k]!;
    const near = mix(irradiance[k]!, spread[k]!, 0.55 * glow);
    // red light travels furthest inside a tooth
    const red = mix(near, wide[k]!, 0.3 * glow);
    const green = mix(near, wide[k]!, 0.18 * glow);
    // in a hollow, light has met the walls several times and taken on their colour
    const bounce = 0.2 * ramp(0.2, 1.6, hollow[k]!) * (1 - g.metal[k]!);
    lit.red[k] = g.red[k]! ** (1 + 0.3 * bounce) * red + shine[k]!;
    lit.green[k] = g.green[k]! ** (1 + 0.5 * bounce) * green + shine[k]! * 0.98;
    lit.blue[k] = g.blue[k]! ** (1 + 0.8 * bounce) * near + shine[k]! * 0.94;
  }
  return lit;
};

/** A wet film mirrors the lamps where it happens to face them: small sharp spots and a faint sheen. */
const highlight = (
  g: Ground,
  k: number,
  slopeRight: number,
  slopeUp: number,
  ripple: (x: number, y: number) => number,
  options: LightOptions,
): number => {
  const x = g.x[k]!;
  const y = g.y[k]!;
  const smooth = SMOOTH.includes(g.region[k]!);
  const swell = smooth ? 0.09 : 0.13;
  const fine = smooth ? 0.012 : 0.06;
  const rx = slopeRight + swell * ripple(x * 1.7 + 3, y * 1.7) + fine * ripple(x * 5.1, y * 5.1 + 8);
  const ry = slopeUp + swell * ripple(x * 1.7, y * 1.7 + 11) + fine * ripple(x * 5.1 + 5, y * 5.1);
  const sharp = ramp(0.3, 0.45, g.wet[k]!);
  let sum = 0;
  for (const lamp of options.lamps) {
    // half-way vector lies at half the lamp's tilt
    const dx = -rx - lamp[0] * 1.0;
    const dy = -ry - lamp[1] * 1.0;
    // hard enamel is smoother than a wet floor: fewer, larger spots
    const off = (dx * dx + dy * dy) / (smooth ? 2.6 : 0.8);
    sum += sharp * 1.7 * ramp(0.0042, 0.0012, off) + 0.13 * Math.exp(-off / 0.035);
  }
  if (sharp === 0) return 0.5 * sum;
  return sum * (0.12 + 0.88 * ramp(-0.05, 0.35, ripple(x * 1.15 + 20, y * 1.15)));
};
