import { COLOUR } from './colours.js';
import { bell, clamp01, lengthOf, mix, ramp, softMax, softMin } from './curves.js';
import { type Ground, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';
import { loopDistance, segmentDistance, smoothField, smoothLoop } from './outline.js';
import type { Crest, ToothShape } from './tooth-shapes.js';

/** Height of the greatest girth of the crown, mm below the highest cusp. */
const GIRTH_Z = -4.4;

export interface Crown {
  /** Inside the outline positive, mm. */
  insideMm: (x: number, y: number) => number;
  /** Height of the sound surface and how near a fissure runs (0..1). */
  surface: (x: number, y: number) => { z: number; fissure: number };
}

const crestHeight = (crest: Crest, slope: number, x: number, y: number): number => {
  const dx = crest.to[0] - crest.from[0];
  const dy = crest.to[1] - crest.from[1];
  const t = clamp01(((x - crest.from[0]) * dx + (y - crest.from[1]) * dy) / (dx * dx + dy * dy));
  const off = segmentDistance(x, y, crest.from, crest.to);
  return mix(crest.zFrom, crest.zTo, t) - slope * (lengthOf(off, 0.75) - 0.75);
};

/** The sound crown of one tooth; the seed gives the tooth its own small irregularities. */
export const makeCrown = (shape: ToothShape, seed: number): Crown => {
  const loop = smoothLoop(shape.outline);
  const insideMm = smoothField((x, y) => loopDistance(x, y, loop));
  const wander = makeNoise(seed);
  const fine = layered(makeNoise(seed + 1), 3);
  const cusps = Math.max(...shape.crests.map((crest) => crest.cusp)) + 1;
  const heights = new Float64Array(cusps);
  const surface = (px: number, py: number): { z: number; fissure: number } => {
    const x = px + 0.16 * wander(px * 0.9, py * 0.9) + 0.06 * wander(px * 2.7 + 9, py * 2.7);
    const y = py + 0.16 * wander(px * 0.9 + 31, py * 0.9) + 0.06 * wander(px * 2.7, py * 2.7 + 9);
    heights.fill(-20);
    for (const crest of shape.crests)
      heights[crest.cusp] = softMax(heights[crest.cusp]!, crestHeight(crest, shape.slope, x, y), 0.25);
    let first = -20;
    let second = -20;
    for (const h of heights) {
      if (h > first) {
        second = first;
        first = h;
      } else if (h > second) second = h;
    }
    const d = insideMm(px, py);
    const fissure = bell(first - second, 0.075) * ramp(1.0, 2.0, d) * ramp(-0.9, -1.3, first);
    const table = softMax(first, second, 0.16) - 0.2 * fissure + 0.07 * fine(px * 0.9, py * 0.9);
    const t = clamp01(d / 3.1);
    const flank = d > 0 ? GIRTH_Z + 4.75 * Math.sqrt(1 - (1 - t) * (1 - t)) : GIRTH_Z + d * 9;
    return { z: softMin(table, flank, 0.55), fissure };
  };
  return { insideMm, surface };
};

/** Lays the sound crown over what is there (the dam). */
export const layCrown = (g: Ground, crown: Crown, seed: number, stainStrength: number): void => {
  const mottle = layered(makeNoise(seed + 2), 4);
  const streak = makeNoise(seed + 3);
  const enamel = regionNumber('enamel');
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const d = crown.insideMm(x, y);
    if (d < -0.5) continue;
    const { z, fissure } = crown.surface(x, y);
    if (z <= g.z[k]!) continue;
    g.z[k] = z;
    g.region[k] = enamel;
    g.metal[k] = 0;
    g.wet[k] = 0.8;
    g.glow[k] = 1;
    tint(g, k, COLOUR.enamel, 1);
    tint(g, k, COLOUR.enamelDeep, 0.45 * ramp(-1.6, -0.2, z) + 0.25 * clamp01(mottle(x * 0.5, y * 0.5)));
    tint(g, k, COLOUR.neck, 0.8 * ramp(-1.9, -4.6, z));
    // thin enamel at the rim of the table lets light through: greyer there
    tint(g, k, COLOUR.clear, 0.4 * bell(d - 1.15, 0.5) * clamp01(0.6 + mottle(x * 0.6 + 8, y * 0.6)));
    shade(g, k, 1 - 0.5 * ramp(0.35, -0.25, d));
    shade(
      g,
      k,
      1 + 0.09 * mottle(x * 0.9, y * 0.9) + 0.05 * mottle(x * 3.1, y * 3.1) + 0.025 * streak(x * 9, y * 9),
    );
    tint(g, k, COLOUR.sclerotic, 0.22 * clamp01(mottle(x * 0.45 + 60, y * 0.45) + 0.2));
    const brown = fissure * stainStrength * (0.55 + 0.6 * clamp01(0.5 + mottle(x * 0.8 + 5, y * 0.8)));
    tint(g, k, COLOUR.stain, clamp01(brown));
    const halo = ramp(0.02, 0.5, fissure) * 0.25 * stainStrength;
    tint(g, k, COLOUR.sclerotic, halo);
  }
};
