import type { Cavity } from './cavity.js';
import { COLOUR } from './colours.js';
import type { Crown } from './crown.js';
import { bell, clamp01, mix, ramp } from './curves.js';
import { orificeReach } from './floor.js';
import { type Colour, type Ground, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';
import { lineDistance, type Spot } from './outline.js';
import type { ToothShape } from './tooth-shapes.js';

/** Gutta-percha cut off just below the orifices, a thin pale ring of sealer round each disc. */
export const layGuttaPercha = (
  g: Ground,
  shape: ToothShape,
  filled: readonly string[],
  widenedMm: number,
  seed: number,
): void => {
  const smear = layered(makeNoise(seed), 3);
  for (const o of shape.orifices.filter((one) => filled.includes(one.canal))) {
    const reachMm = Math.max(o.widthMd, o.widthBl) + widenedMm + 0.3;
    for (let k = 0; k < g.z.length; k++) {
      const x = g.x[k]!;
      const y = g.y[k]!;
      if (Math.abs(x - o.x) > reachMm || Math.abs(y - o.y) > reachMm) continue;
      const e = orificeReach(o, x, y, widenedMm, 0.6 * smear(x * 2.2, y * 2.2));
      if (e > 1.25) continue;
      const ring = bell(e - 1.0, 0.06) * clamp01(0.45 + 0.8 * smear(x * 2.1 + 5, y * 2.1));
      tint(g, k, COLOUR.sealer, 0.75 * ring);
      if (ring > 0.6) g.region[k] = regionNumber('sealer');
      if (e > 0.97) continue;
      // packed with a warm plugger: slightly dished, with the mark of its edge
      g.z[k] = shape.floorZ - 0.42 - 0.1 * ramp(0.9, 0.3, e) + 0.09 * smear(x * 2.2, y * 2.2);
      tint(g, k, COLOUR.guttaPercha, 1);
      tint(
        g,
        k,
        COLOUR.guttaPerchaDull,
        clamp01(0.4 + 0.9 * smear(x * 1.9, y * 1.9) + 0.6 * ramp(0.7, 0.97, e)),
      );
      shade(g, k, (1 + 0.1 * smear(x * 7, y * 7)) * (1 - 0.22 * ramp(0.75, 0.97, e)));
      g.region[k] = regionNumber('gutta-percha');
      g.wet[k] = 0.5;
      g.glow[k] = 0.35;
    }
  }
};

/** The isthmus between two joined canals, filled: a pale, faintly pink line. */
export const layJoint = (g: Ground, line: readonly Spot[], seed: number): void => {
  const uneven = makeNoise(seed);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (g.region[k] === regionNumber('gutta-percha')) continue;
    const off = lineDistance(x + 0.03 * uneven(x * 4, y * 4), y, line);
    const share = ramp(0.14, 0.07, off);
    if (share < 0.02) continue;
    tint(g, k, COLOUR.sealer, share);
    tint(g, k, COLOUR.guttaPercha, 0.3 * bell(off, 0.05));
    if (share > 0.5) g.region[k] = regionNumber('sealer');
    g.z[k] = g.z[k]! + 0.18 * share;
  }
};

/** Calcium hydroxide paste over the floor and up the walls: chalk white, stiff, uneven. */
export const layPaste = (g: Ground, cavity: Cavity, shape: ToothShape, seed: number): void => {
  const heap = layered(makeNoise(seed), 4);
  const swirl = layered(makeNoise(seed + 1), 3);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const inside = cavity.floorMm(x, y);
    if (inside < -0.9) continue;
    const lift =
      1.15 + 0.8 * swirl(x * 0.4, y * 0.4) + 0.1 * swirl(x * 1.3, y * 1.3) + 0.012 * heap(x * 6, y * 6);
    const z = shape.floorZ + lift - 0.45 * ramp(0.1, 1.4, inside);
    if (z > g.z[k]!) {
      g.z[k] = z;
      tint(g, k, COLOUR.paste, 1);
      shade(g, k, 0.95 + 0.04 * swirl(x * 1.5, y * 1.5));
      g.region[k] = regionNumber('paste');
      g.wet[k] = 0.36 + 0.2 * ramp(0, 0.5, heap(x * 0.9, y * 0.9));
      g.glow[k] = 0.8;
    } else if (inside < 0.1) {
      // a thin smear where the lentulo and the probe touched the wall
      const film = ramp(0.15, 0.7, swirl(x * 0.8 + 9, y * 0.8) + 0.5 * ramp(-0.8, -0.2, inside));
      tint(g, k, COLOUR.paste, 0.45 * film);
    }
  }
};

export interface Closure {
  colour: Colour;
  region: 'temporary' | 'composite' | 'seal';
  /** 0 follows the old occlusal shape, 1 flat. */
  flatness: number;
  wet: number;
  /** Depth of the tool marks, mm. */
  marksMm: number;
}

/** Closes the access up to the occlusal surface. */
export const closeAccess = (
  g: Ground,
  crown: Crown,
  cavity: Cavity,
  closure: Closure,
  seed: number,
): void => {
  const marks = layered(makeNoise(seed), 3);
  const sweep = makeNoise(seed + 1);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (cavity.floorMm(x, y) < -2.2) continue;
    const sound = crown.surface(x, y);
    const edge = sound.z - cavity.cutZ(x, y);
    if (edge < -0.3) continue;
    // a faint step and a fine line where the filling meets the enamel
    const line = bell(edge - 0.05, 0.09) * clamp01(0.5 + marks(x * 0.9, y * 0.9));
    tint(g, k, COLOUR.stain, 0.16 * line);
    if (edge < 0.05) continue;
    const inner = ramp(0.05, 1.4, edge);
    const flat = mix(sound.z, -1.72 + 0.12 * marks(x * 0.4, y * 0.4), closure.flatness * inner);
    g.z[k] = flat - 0.07 + closure.marksMm * (marks(x * 1.4, y * 1.4) + 0.6 * sweep(x * 1.1, y * 5));
    tint(g, k, closure.colour, closure.region === 'composite' ? 0.8 : 1);
    shade(g, k, 0.95 + 0.05 * marks(x * 0.8 + 4, y * 0.8) - 0.05 * bell(edge - 0.12, 0.1));
    if (closure.region === 'composite') tint(g, k, COLOUR.sclerotic, 0.35 * sound.fissure);
    g.region[k] = regionNumber(closure.region);
    g.wet[k] = closure.wet;
    g.glow[k] = 0.75;
    g.metal[k] = 0;
  }
};

/** Flowable resin over floor and discs: white, smooth, meets the wall with a meniscus. */
export const layOrificeSeal = (g: Ground, cavity: Cavity, shape: ToothShape, seed: number): void => {
  const swell = layered(makeNoise(seed), 2);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const inside = cavity.floorMm(x, y);
    if (inside < -0.5) continue;
    const z = shape.floorZ + 0.55 + 0.3 * bell(inside + 0.1, 0.3) + 0.14 * swell(x * 0.5, y * 0.5);
    if (z <= g.z[k]!) continue;
    g.z[k] = z;
    tint(g, k, COLOUR.seal, 1);
    shade(g, k, 0.84 + 0.06 * swell(x * 1.1, y * 1.1));
    g.region[k] = regionNumber('seal');
    g.wet[k] = 0.4;
    g.glow[k] = 0.9;
  }
};
