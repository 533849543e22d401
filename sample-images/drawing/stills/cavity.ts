import { COLOUR } from './colours.js';
import type { Crown } from './crown.js';
import { bell, clamp01, lengthOf, mix, ramp } from './curves.js';
import { type Ground, regionNumber, shade, tint } from './ground.js';
import { layered, makeNoise } from './noise.js';
import { hullOf, loopDistance, type Spot, smoothField } from './outline.js';
import type { ToothShape } from './tooth-shapes.js';

/** Widths of the three belts of the wall as seen from above, mm: chamber wall, dentine, flared enamel. */
const CHAMBER_MM = 0.3;
const DENTINE_MM = 0.42;
const ENAMEL_Z = -2.3;
const FLARE = 3.1;

/** The access of one tooth: floor outline = hull of its orifices, walls leaning a little outwards. */
export interface Cavity {
  /** Distance inside the rim of the floor, mm; negative on the walls; a little uneven. */
  floorMm: (x: number, y: number) => number;
  /** Height of the cut surface. */
  cutZ: (x: number, y: number) => number;
}

/** Hull of the orifices as found, each an ellipse: the rim of the floor runs round their outer edges. */
export const floorHull = (shape: ToothShape): Spot[] =>
  hullOf(
    shape.orifices.flatMap((o) =>
      Array.from({ length: 24 }, (_, n): Spot => {
        const a = (n * Math.PI) / 12;
        return [o.x + (o.widthMd / 2 + 0.05) * Math.cos(a), o.y + (o.widthBl / 2 + 0.05) * Math.sin(a)];
      }),
    ),
  );

/** Distance to the outside of the nearest orifice turned round, mm: 1 at an orifice, 0 away from all. */
const nearestMm = (shape: ToothShape, x: number, y: number): number =>
  Math.max(...shape.orifices.map((o) => 1 - Math.max(0, lengthOf(x - o.x, y - o.y) - o.widthBl / 2)));

export const makeCavity = (shape: ToothShape, seed: number): Cavity => {
  const hull = floorHull(shape);
  const kidney = shape.fdi === 24 ? 0.14 : 0;
  const wavy = layered(makeNoise(seed), 2);
  const floorMm = smoothField((x, y) => {
    // the floor of an upper premolar is dented on the mesial
    const dent = x > 0 ? kidney * bell(y, 0.8) : 0;
    return (
      loopDistance(x, y, hull) - dent + 0.09 * wavy(x * 1.2, y * 1.2) * ramp(0.9, 0.2, nearestMm(shape, x, y))
    );
  });
  const cutZ = (x: number, y: number): number => {
    const t = -floorMm(x, y) * (1 + 0.3 * wavy(x * 0.55 + 4, y * 0.55));
    if (t <= 0) return shape.floorZ;
    if (t < CHAMBER_MM) {
      const u = t / CHAMBER_MM;
      return mix(shape.floorZ, shape.roofZ, u ** 1.5);
    }
    if (t < CHAMBER_MM + DENTINE_MM) return mix(shape.roofZ, ENAMEL_Z, (t - CHAMBER_MM) / DENTINE_MM);
    return ENAMEL_Z + (t - CHAMBER_MM - DENTINE_MM) * FLARE;
  };
  return { floorMm, cutZ };
};

/** Composite that stands in for a lost distal wall: a box in the tooth frame. */
export interface BuildUp {
  /** Composite lies distal of this, mm. */
  distalOf: number;
  halfWidth: number;
  bottomZ: number;
}

/** 1 inside the composite, 0 in tooth, soft within 0.04 mm. */
export const buildUpAt = (b: BuildUp, x: number, y: number, z: number, waver: number): number =>
  ramp(-0.09, 0.09, b.distalOf - x - 0.7 * Math.abs(y / b.halfWidth) ** 3 + 0.4 * waver) *
  ramp(-0.09, 0.09, b.halfWidth + 0.45 * waver - Math.abs(y) + 0.3 * (b.distalOf - x)) *
  ramp(-0.05, 0.05, z - b.bottomZ);

/** Cuts the access into the crown and colours the walls by what they run through. */
export const cutAccess = (
  g: Ground,
  crown: Crown,
  cavity: Cavity,
  _shape: ToothShape,
  seed: number,
): void => {
  const mottle = layered(makeNoise(seed + 1), 3);
  const marks = makeNoise(seed + 2);
  for (let k = 0; k < g.z.length; k++) {
    const x = g.x[k]!;
    const y = g.y[k]!;
    const inside = cavity.floorMm(x, y);
    if (inside < -2.2 || g.region[k] !== regionNumber('enamel')) continue;
    const cut = cavity.cutZ(x, y);
    const sound = g.z[k]!;
    if (cut >= sound) {
      // the cut edge catches the light: a narrow frosted line round the opening
      const rim = bell(cut - sound, 0.35);
      tint(g, k, COLOUR.enamelDeep, 0.5 * rim);
      g.wet[k] = 0.8 - 0.3 * rim;
      continue;
    }
    // the bur leaves fine ridges that run round the cavity
    const angle = Math.atan2(y, x);
    const ridges = marks(angle * 2.2, cut * 5.5);
    g.z[k] = cut + (inside < -CHAMBER_MM ? 0.035 * ridges : 0);
    const under = crown.surface(x, y).z - cut;
    const edge = 1.55 + 0.25 * mottle(x * 0.7, y * 0.7);
    const isEnamel = ramp(edge + 0.05, edge - 0.05, under);
    tint(g, k, COLOUR.dentine, 1);
    tint(g, k, COLOUR.sclerotic, 0.35 * clamp01(0.4 + mottle(x * 0.9 + 7, y * 0.9)) * ramp(-2.5, -6, cut));
    tint(g, k, COLOUR.repair, 0.5 * ramp(0.1, 0.5, mottle(x * 1.7, y * 1.7 + 9)) * ramp(-5.5, -6.5, cut));
    tint(g, k, COLOUR.floor, 0.3 * ramp(-7.2, -8, cut));
    shade(g, k, 1.02 + 0.05 * mottle(x * 2.5, y * 2.5) + 0.035 * ridges);
    tint(g, k, COLOUR.enamelDeep, 0.95 * isEnamel);
    // the enamel-dentine junction shows as a fine pale line with a darker one beneath
    tint(g, k, COLOUR.enamelDeep, 0.5 * bell(under - edge, 0.06));
    tint(g, k, COLOUR.sclerotic, 0.4 * bell(under - edge - 0.22, 0.14));
    g.region[k] = regionNumber(isEnamel > 0.5 ? 'enamel' : 'wall');
    g.wet[k] = isEnamel > 0.5 ? 0.75 : 0.5;
    g.glow[k] = isEnamel > 0.5 ? 1 : 0.8;
  }
};

/** Turns the surface into composite where it runs through the build-up. */
export const layBuildUp = (g: Ground, build: BuildUp, seed: number): void => {
  const waver = layered(makeNoise(seed), 2);
  const cloud = layered(makeNoise(seed + 1), 3);
  const tooth = [regionNumber('enamel'), regionNumber('wall')];
  for (let k = 0; k < g.z.length; k++) {
    if (!tooth.includes(g.region[k]!)) continue;
    const x = g.x[k]!;
    const y = g.y[k]!;
    const w = waver(x * 0.8, y * 0.8);
    const share = buildUpAt(build, x, y, g.z[k]!, w);
    // the joint: a hair-fine darker line
    const joint = 4 * share * (1 - share);
    tint(g, k, COLOUR.composite, 0.75 * share);
    if (share > 0.5) {
      shade(g, k, 1 + 0.04 * cloud(x * 1.4, y * 1.4));
      g.wet[k] = 0.6;
      g.glow[k] = 0.6;
      g.region[k] = regionNumber('composite');
    }
    tint(g, k, COLOUR.stain, 0.1 * joint);
  }
};
