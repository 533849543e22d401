import type { Cavity } from './cavity.js';
import { COLOUR } from './colours.js';
import { bell, clamp01, lengthOf, ramp } from './curves.js';
import { type Ground, linearOf, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';
import { lineDistance } from './outline.js';
import type { Orifice, ToothShape } from './tooth-shapes.js';

export interface FloorState {
  /** Canals whose orifice is open to be seen. */
  found: readonly string[];
  /** Added to every orifice by shaping, mm. */
  widenedMm: number;
  /** The groove between the mesial orifices is cut deeper. */
  troughed: boolean;
  /** 0 clean .. 1 chamber full of remnants. */
  remnants: number;
  /** Canals that still bleed. */
  bleeding: readonly string[];
  /** Dry floors are paler and matt. */
  dry: boolean;
}

/** 0 in the middle of an orifice, 1 at its rim. */
export const orificeReach = (o: Orifice, x: number, y: number, widenedMm: number, wobble: number): number => {
  const a = o.widthMd / 2 + widenedMm / 2;
  const b = o.widthBl / 2 + widenedMm / 2;
  return lengthOf((x - o.x) / a, (y - o.y) / b) * (1 + 0.1 * wobble);
};

const BLOOD = linearOf([128, 34, 26]);
const TISSUE = linearOf([112, 76, 52]);

/** Floor of the chamber: darker than the walls, domed, with its lines, orifices and calcified spots. */
export const layFloor = (
  g: Ground,
  cavity: Cavity,
  shape: ToothShape,
  state: FloorState,
  seed: number,
): void => {
  const mottle = layered(makeNoise(seed), 4);
  const wander = makeNoise(seed + 1);
  const spots = makeNoise(seed + 2);
  for (let k = 0; k < g.z.length; k++) {
    const px = g.x[k]!;
    const py = g.y[k]!;
    const inside = cavity.floorMm(px, py);
    if (inside < -0.45) continue;
    const x = px + 0.05 * wander(px * 2.1, py * 2.1);
    const y = py + 0.05 * wander(px * 2.1 + 40, py * 2.1);
    const onFloor = ramp(-0.1, 0.06, inside);
    if (inside > -0.06) {
      g.z[k] = g.z[k]! + 0.26 * ramp(0, 1.3, inside) + 0.03 * mottle(x * 2.2, y * 2.2);
      g.region[k] = regionNumber('floor');
      g.wet[k] = 0.2 + 0.55 * ramp(0.08, 0.42, inside);
      g.glow[k] = 0.6;
    }
    tint(g, k, COLOUR.floor, onFloor);
    tint(g, k, COLOUR.floorOld, onFloor * clamp01(0.42 + 0.75 * mottle(x * 0.8, y * 0.8)));
    shade(
      g,
      k,
      1 +
        onFloor *
          (0.14 * mottle(x * 2.1, y * 2.1) + 0.07 * mottle(x * 9, y * 9) + 0.05 * wander(x * 26, y * 26)),
    );
    tint(g, k, COLOUR.repair, 0.4 * onFloor * ramp(0.42, 0.75, spots(x * 1.5, y * 1.5)));
    layGrooves(g, k, shape, state, x, y, onFloor, mottle(x * 1.3 + 3, y * 1.3));
    if (state.remnants > 0)
      layRemnants(g, k, state.remnants, onFloor, mottle(x * 0.9 + 50, y * 0.9), spots(x * 4, y * 4));
  }
  for (const o of shape.orifices) {
    if (state.found.includes(o.canal))
      layOrifice(g, o, state, seed + o.canal.length * 7 + o.canal.charCodeAt(0));
    else if (state.remnants < 0.5) layCalcified(g, o, seed);
  }
};

const layGrooves = (
  g: Ground,
  k: number,
  shape: ToothShape,
  state: FloorState,
  x: number,
  y: number,
  onFloor: number,
  uneven: number,
): void => {
  for (let n = 0; n < shape.grooves.length; n++) {
    const line = shape.grooves[n]!;
    const off = lineDistance(x, y, line);
    if (off > 0.8) continue;
    const trough = state.troughed && n === 0;
    const width = 0.075 + 0.03 * uneven;
    const dark = bell(off, width) * (0.75 + 0.3 * uneven) * onFloor;
    const halo = bell(off, 0.24) * 0.34 * onFloor;
    if (trough) {
      // cut with an ultrasonic tip: a flat-bottomed ditch through cleaner dentine, the line still in its bottom
      const ditch = ramp(0.3, 0.2, off) * onFloor;
      g.z[k] = g.z[k]! - 0.55 * ditch;
      tint(g, k, COLOUR.sclerotic, 0.65 * ditch);
      tint(g, k, COLOUR.groove, 0.75 * bell(off, 0.05) * onFloor);
      if (ditch > 0.5) g.region[k] = regionNumber('wall');
    } else {
      g.z[k] = g.z[k]! - (0.1 * dark + 0.07 * halo);
      tint(g, k, COLOUR.groove, clamp01(halo + 0.2 * dark));
      tint(g, k, COLOUR.groove, clamp01(dark * 1.1));
      if (dark > 0.55) g.region[k] = regionNumber('groove');
    }
  }
};

const layRemnants = (
  g: Ground,
  k: number,
  much: number,
  onFloor: number,
  cloud: number,
  crumb: number,
): void => {
  const share = onFloor * ramp(0.55 - much, 0.75 - much, cloud + 0.25 * crumb);
  if (share < 0.02) return;
  g.z[k] = g.z[k]! + 0.28 * share * (1 + 0.4 * crumb);
  tint(g, k, TISSUE, 0.85 * share);
  shade(g, k, 1 + 0.25 * crumb * share);
  g.wet[k] = Math.max(g.wet[k]!, 0.9 * share);
};

/** An open orifice: funnel, rim of clean dentine, black in the depth. */
const layOrifice = (g: Ground, o: Orifice, state: FloorState, seed: number): void => {
  const rough = layered(makeNoise(seed), 2);
  const bleeds = state.bleeding.includes(o.canal);
  const shaped = state.widenedMm > 0.15;
  const orifice = regionNumber('orifice');
  const reachMm = Math.max(o.widthMd, o.widthBl) + state.widenedMm + 0.9;
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (Math.abs(x - o.x) > reachMm || Math.abs(y - o.y) > reachMm) continue;
    const e = orificeReach(o, x, y, state.widenedMm, (shaped ? 0.35 : 1) * rough(x * 2.6, y * 2.6));
    if (e > 3) continue;
    const size = Math.min(o.widthMd, o.widthBl) + state.widenedMm;
    // canals leave the floor at a slant: the dark centre lies towards where they go
    const deep = orificeReach(o, x - o.lean[0] * size, y - o.lean[1] * size, state.widenedMm, 0);
    const base = g.z[k]!;
    g.z[k] = Math.min(
      base,
      base - 0.3 * ramp(1.75, 0.95, e) - 1.7 * size * clamp01(1 - deep) ** 0.8 * ramp(1.12, 0.9, e),
    );
    tint(g, k, COLOUR.groove, 0.35 * ramp(1.7, 1.05, e) * (shaped ? 0.3 : 1));
    if (shaped) tint(g, k, COLOUR.dentine, 0.4 * bell(e - 1.1, 0.16));
    tint(g, k, COLOUR.sclerotic, 0.3 * bell(e - 1.02, 0.14) * clamp01(0.5 + rough(x * 3, y * 3)));
    tint(g, k, COLOUR.groove, 0.8 * ramp(1.12, 0.9, e));
    tint(g, k, COLOUR.orifice, ramp(1.0, 0.66, e));
    tint(g, k, COLOUR.lumen, ramp(0.85, 0.35, deep) * ramp(1, 0.8, e));
    if (bleeds)
      tint(g, k, BLOOD, 0.88 * ramp(2.3 + 1.5 * rough(x * 0.9, y * 0.9), 1.1, e) * ramp(0.1, 0.55, deep));
    if (e < 0.86) {
      g.region[k] = orifice;
      g.wet[k] = bleeds ? 1 : 0.12;
      g.glow[k] = 0.05;
    }
  }
};

/** A closed orifice shows as a small chalk-white spot. */
const layCalcified = (g: Ground, o: Orifice, seed: number): void => {
  const rough = makeNoise(seed + 5);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    if (Math.abs(x - o.x) > 0.6 || Math.abs(y - o.y) > 0.6) continue;
    const off = lengthOf(x - o.x, y - o.y) * (1 + 0.3 * rough(x * 6, y * 6));
    tint(g, k, COLOUR.repair, 0.85 * ramp(0.2, 0.09, off));
  }
};
