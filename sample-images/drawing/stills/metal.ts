import { COLOUR } from './colours.js';
import type { Crown } from './crown.js';
import { bell, clamp01, lengthOf, mix, ramp } from './curves.js';
import { type Ground, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';
import { lineDistance, loopDistance, type Spot, smoothField, smoothLoop } from './outline.js';
import type { ToothShape } from './tooth-shapes.js';

/** An old amalgam: grey, scratched, tarnished at the edge, a ditch along its margin. */
export const layAmalgam = (g: Ground, crown: Crown, area: readonly Spot[], seed: number): void => {
  const loop = smoothLoop(area);
  const insideMm = smoothField((x, y) => loopDistance(x, y, loop));
  const waver = layered(makeNoise(seed), 2);
  const grain = makeNoise(seed + 1);
  const tarnish = layered(makeNoise(seed + 2), 3);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (g.region[k] !== regionNumber('enamel')) continue;
    const d = insideMm(x, y) + 0.13 * waver(x * 1.6, y * 1.6);
    if (d < -0.5) continue;
    const ditch = bell(d, 0.07);
    tint(g, k, COLOUR.amalgamDark, 0.16 * ramp(-0.45, 0, d));
    if (d > 0) {
      const worn = mix(crown.surface(x, y).z, -1.7, 0.45) - 0.12;
      const scratch = grain(x * 17 + y * 6, y * 1.6 - x * 0.5);
      g.z[k] = Math.min(g.z[k]! + 0.05, worn) + 0.025 * tarnish(x * 2, y * 2) + 0.006 * scratch;
      tint(g, k, COLOUR.amalgam, 1);
      tint(g, k, COLOUR.amalgamDark, clamp01(0.1 + 0.9 * tarnish(x * 0.9, y * 0.9) + 0.25 * ramp(0.4, 0, d)));
      shade(g, k, 1 + 0.16 * scratch + 0.1 * grain(x * 23, y * 23));
      g.metal[k] = 0.55;
      g.wet[k] = 0.7;
      g.glow[k] = 0;
      g.region[k] = regionNumber('amalgam');
    }
    const open = clamp01(0.35 + 0.9 * waver(x * 0.7 + 30, y * 0.7));
    g.z[k] = g.z[k]! - 0.2 * ditch * open;
    tint(g, k, COLOUR.cariesDark, 0.75 * ditch * open);
  }
};

/** Open decay: chalky undermined rim, brown to almost black inside, soft and uneven. */
export const layCaries = (g: Ground, area: readonly Spot[], depthMm: number, seed: number): void => {
  const loop = smoothLoop(area);
  const insideMm = smoothField((x, y) => loopDistance(x, y, loop));
  const ragged = layered(makeNoise(seed), 4);
  const soft = layered(makeNoise(seed + 1), 4);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (g.region[k] === regionNumber('dam') || g.region[k] === regionNumber('ligature')) continue;
    const d = insideMm(x, y) + 0.3 * ragged(x * 1.3, y * 1.3);
    if (d < -1.3) continue;
    const chalk = ramp(-1.2, -0.1, d);
    if (g.region[k] === regionNumber('enamel')) {
      // undermined enamel: greyish brown shines through, chalk white along the very edge
      tint(g, k, COLOUR.caries, 0.4 * chalk * ramp(0.1, -0.4, d));
      tint(g, k, COLOUR.enamelDeep, 0.55 * bell(d + 0.12, 0.14));
    }
    if (d <= 0) continue;
    const fall = depthMm * ramp(0, 0.9, d);
    g.z[k] = Math.max(-5.6, g.z[k]! - fall) + 0.16 * soft(x * 2.3, y * 2.3) * ramp(0, 0.4, d);
    tint(g, k, COLOUR.caries, ramp(0, 0.12, d));
    tint(
      g,
      k,
      COLOUR.cariesDark,
      clamp01(0.5 + 1.1 * soft(x * 1.1, y * 1.1) + 0.3 * ramp(0.2, 1.2, d)) * ramp(0, 0.3, d),
    );
    shade(g, k, 1 + 0.2 * soft(x * 5, y * 5));
    g.region[k] = regionNumber('caries');
    g.metal[k] = 0;
    g.wet[k] = 0.45;
    g.glow[k] = 0.2;
  }
};

interface ClampParts {
  jaws: ((x: number, y: number) => number)[];
  /** Distance to the middle line of the bow, mm. */
  bow: (x: number, y: number) => number;
}

const clampsMade = new Map<number, ClampParts>();
/** Worked out once for all stills of a tooth. */
const clampParts = (shape: ToothShape): ClampParts => {
  const known = clampsMade.get(shape.fdi) ?? makeClamp(shape);
  clampsMade.set(shape.fdi, known);
  return known;
};

const makeClamp = (shape: ToothShape): ClampParts => {
  const reach = shape.crownBl / 2;
  const half = shape.crownMd * 0.36;
  const jaws = [1, -1].map((side) => {
    const spots: Spot[] = [
      [half * 0.85, side * (reach - 0.1)],
      [half * 0.4, side * (reach + 0.35)],
      [-half * 0.4, side * (reach + 0.35)],
      [-half * 0.85, side * (reach - 0.1)],
      [-half * 0.9, side * (reach + 1.1)],
      [-half - 1.2, side * (reach + 1.5)],
      [-half - 1.6, side * (reach + 3.0)],
      [-half * 0.7, side * (reach + 4.6)],
      [half * 0.8, side * (reach + 5.2)],
      [half + 2.1, side * (reach + 4.6)],
      [half + 2.4, side * (reach + 3.2)],
      [half + 0.7, side * (reach + 1.7)],
    ];
    const loop = smoothLoop(spots);
    return smoothField((x, y) => {
      const hole = lengthOf(x - 0.3, y - side * (reach + 3.0)) - 0.8;
      return Math.min(loopDistance(x, y, loop), hole);
    });
  });
  const back = -shape.crownMd / 2;
  const line = Array.from({ length: 61 }, (_, n): Spot => {
    const a = (n / 60) * Math.PI;
    return [-half - 0.7 + (back - 2.8 + half) * Math.sin(a) ** 0.8, (reach + 2.4) * Math.cos(a)];
  });
  const bow = smoothField((x, y) => lineDistance(x, y, line));
  return { jaws, bow };
};

/** A winged steel clamp: jaws at the neck on both sides, the bow rising over the distal. */
export const layClamp = (g: Ground, shape: ToothShape, seed: number): void => {
  const { jaws, bow } = clampParts(shape);
  const reach = shape.crownBl / 2;
  const brushed = makeNoise(seed);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    for (const jaw of jaws) {
      const d = jaw(x, y);
      if (d <= 0) continue;
      const out = Math.abs(y) - reach;
      const round = 1 - clamp01(d / 0.3);
      const z = -5.3 + 0.5 * out - 0.05 * out * out - 0.3 * round * round + 0.05 * brushed(x * 0.4, y * 0.4);
      if (z > g.z[k]!) steel(g, k, z, brushed(x * 2, y * 22));
    }
    if (x < -1) layBow(g, k, bow(x, y), y, reach, brushed(x * 3, y * 3));
  }
};

/** Half the width of the bow as seen from above, mm. */
const BOW_MM = 0.72;

const layBow = (g: Ground, k: number, off: number, y: number, reach: number, brush: number): void => {
  if (off >= BOW_MM) return;
  const across = off / BOW_MM;
  // from the side the bow is an arch: low at the jaws, highest over the distal
  const rise = Math.sqrt(Math.max(0, 1 - (y / (reach + 2.7)) ** 2));
  const z = -4.2 + 4.4 * rise ** 1.2 + 0.7 * Math.sqrt(1 - across * across);
  if (z > g.z[k]!) steel(g, k, z, brush);
};

const steel = (g: Ground, k: number, z: number, brush: number): void => {
  g.z[k] = z;
  tint(g, k, COLOUR.clamp, 1);
  shade(g, k, 1 + 0.05 * brush);
  g.region[k] = regionNumber('clamp');
  g.metal[k] = 1;
  g.wet[k] = 0;
  g.glow[k] = 0;
};
