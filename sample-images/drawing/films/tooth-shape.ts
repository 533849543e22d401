/**
 * Solid shapes of a tooth as distances, in the tooth frame of the drawings: x mesial, y buccal, z towards the
 * biting surface, millimetres, z = 0 at the neck (cemento-enamel junction) on the buccal side.
 * A distance is negative inside. It is measured along the radius from the axis, exact at the silhouette.
 */
import type { Profile } from './profile.js';

export type Field = (x: number, y: number, z: number) => number;

export interface Root {
  topZ: number;
  /** Height of the very tip (anatomical apex). */
  tipZ: number;
  /** Length of the rounded end. */
  capMm: number;
  centreX: Profile;
  centreY: Profile;
  /** Half the mesiodistal and half the buccolingual width. */
  halfMd: Profile;
  halfBl: Profile;
  /** Inward waist of mesial and distal faces at the middle (0 none), as a share of halfMd. */
  waist: number;
}

export interface Cusp {
  x: number;
  y: number;
  z: number;
}

export interface Crown {
  halfMd: Profile;
  halfBl: Profile;
  centreX: Profile;
  centreY: Profile;
  /** 0 = ellipse, 1 = nearly a rectangle with round corners. */
  square: number;
  cusps: readonly Cusp[];
  /** Fall of a cusp's side, mm per mm. */
  slope: number;
  fossaZ: number;
  /** Marginal ridges: where and how high. */
  ridges: readonly { x: number; z: number; halfBl: number }[];
  /** The body of the crown reaches this far down between the roots (floor of the furcation). */
  trunkZ: number;
  /** How much higher the neck line runs mesially and distally. */
  neckRiseMm: number;
  enamelSideMm: number;
  enamelTopMm: number;
}

export interface ToothShape {
  name: string;
  crown: Crown;
  roots: readonly Root[];
  /** Chamber with horns, without the canals. */
  chamber: Field;
}

function smoothMin(a: number, b: number, k: number): number {
  const h = Math.max(0, k - Math.abs(a - b)) / k;
  return Math.min(a, b) - h * h * k * 0.25;
}

function smoothMax(a: number, b: number, k: number): number {
  return -smoothMin(-a, -b, k);
}

/** Radius of a section in units of its border (1 on the border): between ellipse and squarish. */
function sectionNorm(u: number, v: number, square: number): number {
  const u2 = u * u;
  const v2 = v * v;
  const round = Math.sqrt(u2 + v2);
  if (square === 0) return round;
  return round + square * (Math.sqrt(Math.sqrt(u2 * u2 + v2 * v2)) - round);
}

function radialDistance(x: number, y: number, a: number, b: number, square: number): number {
  const norm = sectionNorm(x / a, y / b, square);
  if (norm < 1e-6) return -Math.min(a, b);
  const length = Math.sqrt(x * x + y * y);
  return length - length / norm;
}

/** Distance to a root; below the cap's centre the end is an ellipsoid. */
export function rootDistance(root: Root, x: number, y: number, z: number): number {
  const capZ = root.tipZ + root.capMm;
  const at = Math.max(z, capZ);
  const lean = z < capZ ? z : at;
  const dx = x - root.centreX(lean);
  const dy = y - root.centreY(lean);
  const b = root.halfBl(at);
  const waist = root.waist === 0 ? 0 : root.waist * Math.exp(-(dy * dy) / (0.12 * b * b));
  const a = root.halfMd(at) * (1 - waist);
  if (z >= capZ) return radialDistance(dx, dy, a, b, 0.25);
  const dz = z - capZ;
  const norm = Math.sqrt((dx / a) ** 2 + (dy / b) ** 2 + (dz / root.capMm) ** 2);
  const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
  return norm < 1e-6 ? -a : length - length / norm;
}

/** Height of the biting surface over a place of the crown. */
export function surfaceHeight(crown: Crown, x: number, y: number): number {
  let height = crown.fossaZ + 0.05 * (x * x + y * y);
  for (const cusp of crown.cusps) {
    const distance = Math.sqrt((x - cusp.x) ** 2 + (y - cusp.y) ** 2 + 0.5) - Math.SQRT1_2;
    height = smoothMax(height, cusp.z - crown.slope * distance, 0.35);
  }
  for (const ridge of crown.ridges) {
    const side = Math.max(0, Math.abs(y) - ridge.halfBl);
    const distance = Math.sqrt((x - ridge.x) ** 2 + side * side + 0.3) - 0.548;
    height = smoothMax(height, ridge.z - crown.slope * 1.1 * distance, 0.35);
  }
  return height;
}

function crownSide(crown: Crown, x: number, y: number, z: number): number {
  return radialDistance(
    x - crown.centreX(z),
    y - crown.centreY(z),
    crown.halfMd(z),
    crown.halfBl(z),
    crown.square,
  );
}

/** Height of the neck line over a place: it rises towards the neighbours. */
export function neckHeight(crown: Crown, x: number, y: number): number {
  const total = x * x + y * y;
  return total < 1e-6 ? 0 : (crown.neckRiseMm * x * x) / total;
}

export interface ToothDistances {
  outer: number;
  /** Border between enamel and dentine; equals `outer` below the neck. */
  dentine: number;
}

/** Both surfaces of a tooth at one place. `into` is reused, because this runs millions of times. */
export function toothDistances(
  shape: ToothShape,
  x: number,
  y: number,
  z: number,
  into: ToothDistances,
): void {
  const { crown } = shape;
  let rooted = 99;
  for (const root of shape.roots) {
    if (z < root.topZ) rooted = smoothMin(rooted, rootDistance(root, x, y, z), z < crown.trunkZ ? 0.25 : 0.8);
  }
  if (z < crown.trunkZ - 0.8) {
    into.outer = rooted;
    into.dentine = rooted;
    return;
  }
  const side = crownSide(crown, x, y, z);
  // The roof between the roots is a saddle, highest at cheek and tongue.
  const saddle = crown.trunkZ + 0.07 * y * y;
  const body = z < saddle + 1.6 ? smoothMax(side, saddle - z, 1.6) : side;
  if (z <= 0) {
    into.outer = smoothMin(body, rooted, 0.7);
    into.dentine = into.outer;
    return;
  }
  const surface = surfaceHeight(crown, x, y);
  const outer = smoothMax(body, (z - surface) * 0.86, 0.9);
  into.outer = rooted < 90 ? smoothMin(outer, rooted, 0.5) : outer;
  const above = z - neckHeight(crown, x, y);
  if (above <= 0) {
    into.dentine = into.outer;
    return;
  }
  const thickness = crown.enamelSideMm * (1 - Math.exp(-above / 2.1)) + 0.012;
  const inner = smoothMax(side + thickness, (z - surface + crown.enamelTopMm) * 0.86, 1.2);
  into.dentine = Math.max(into.outer, Math.min(inner, into.outer + 3));
}
