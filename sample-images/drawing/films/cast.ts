/**
 * Casts the beam through teeth and bone and adds up what it meets, in millimetres of aluminium (the usual way to
 * state radiopacity). The beam is parallel and horizontal; turned by `beamRad`, the tube stands to the mesial.
 * Order of strength: metal, gutta-percha, fillings, enamel, dentine, bone, soft tissue, air.
 */
import { smoothNoise } from '../noise.js';
import { blankRaster } from '../raster.js';
import { type Bone, type Cast, OPACITY, type PlacedTooth, type Ray } from './beam-scene.js';
import { type ToothDistances, toothDistances } from './tooth-shape.js';

const STEP_MM = 0.28;
const REACH_MM = 7.6;
const LAMINA_MM = 0.28;

/** Share of a step that lies below a level, the field being straight between its ends. */
function below(from: number, to: number, level: number): number {
  const a = from - level;
  const b = to - level;
  if (a >= 0 && b >= 0) return 0;
  if (a < 0 && b < 0) return 1;
  return a < 0 ? a / (a - b) : b / (b - a);
}

interface ToothState {
  tooth: PlacedTooth;
  cos: number;
  sin: number;
  outer: number;
  /** Steps that need no look, because the tooth is too far away to be met in them. */
  rest: number;
  dentine: number;
  chamber: number;
  parts: Float64Array;
}

function nearTeeth(teeth: readonly PlacedTooth[], ray: Ray, shear: number): ToothState[] {
  const smear = Math.abs(shear) * 5.5 + 6.6;
  return teeth
    .filter((tooth) => Math.abs(ray.x - tooth.x + (ray.z - tooth.z) * -Math.sin(tooth.leanRad)) < smear + 1)
    .map((tooth) => ({
      tooth,
      cos: Math.cos(tooth.leanRad),
      sin: Math.sin(tooth.leanRad),
      outer: 9,
      rest: 0,
      dentine: 9,
      chamber: 9,
      parts: new Float64Array(tooth.parts.length).fill(9),
    }));
}

const scratch: ToothDistances = { outer: 0, dentine: 0 };

/** Opacity gathered in one step of one tooth, per mm of path; updates the state to the step's end. */
function stepThroughTooth(state: ToothState, stepMm: number, gx: number, y: number, gz: number): number {
  if (state.rest > 0) {
    state.rest -= 1;
    return 0;
  }
  const { tooth, cos, sin } = state;
  const dx = gx - tooth.x;
  const dz = gz - tooth.z;
  const x = cos * dx - sin * dz;
  const z = sin * dx + cos * dz;
  toothDistances(tooth.shape, x, y, z, scratch);
  const { outer, dentine } = scratch;
  let sum = 0;
  if (outer < 0.3 || state.outer < 0.3) {
    const whole = below(state.outer, outer, 0);
    const core = Math.min(whole, below(state.dentine, dentine, 0));
    sum = core * OPACITY.dentine + (whole - core) * OPACITY.enamel;
    const chamber = tooth.shape.chamber(x, y, z);
    const pulp = below(state.chamber, chamber, 0);
    if (pulp > 0) sum += pulp * (OPACITY.pulp - sum);
    state.chamber = chamber;
    for (let i = 0; i < tooth.parts.length; i++) {
      const part = tooth.parts[i]!;
      const value = Math.max(part.field(x, y, z), outer - 0.02);
      const share = below(state.parts[i]!, value, 0);
      if (share > 0) sum += share * (part.opacity - sum);
      state.parts[i] = value;
    }
  } else {
    state.chamber = 9;
    state.parts.fill(9);
  }
  state.outer = outer;
  if (outer > 2) state.rest = Math.floor((outer - 1) / stepMm / 1.6);
  state.dentine = dentine;
  return sum;
}

/** Cast of one ray: [teeth mm Al, spongy path mm, dense bone mm Al]. */
function castRay(
  teeth: readonly PlacedTooth[],
  bone: Bone,
  ray: Ray,
  shear: number,
  into: Float64Array,
): void {
  const states = nearTeeth(teeth, ray, shear);
  const pathMm = STEP_MM * Math.sqrt(1 + shear * shear);
  const scraps = { teeth: 0, spongy: 0, dense: 0 };
  const before = new Float64Array(states.length);
  // A living ligament is not of one width: 0.15-0.38 mm, thinnest half-way down.
  const ligamentShare = 1 + 0.22 * smoothNoise(ray.x / 1.1, ray.z / 1.6, 61);
  const liningShare = Math.max(0.15, 0.95 + 0.75 * smoothNoise(ray.x / 1.4, ray.z / 2.2, 62));
  for (let y = -REACH_MM; y <= REACH_MM; y += STEP_MM) {
    const x = ray.x + y * shear;
    let rooted = 0;
    let lined = 0;
    let solid = 0;
    for (let i = 0; i < states.length; i++) {
      const state = states[i]!;
      before[i] = state.outer;
      scraps.teeth += stepThroughTooth(state, pathMm, x, y, ray.z) * pathMm;
      const ligamentMm = state.tooth.ligamentMm * ligamentShare;
      solid = Math.max(solid, below(before[i]!, state.outer, 0));
      rooted = Math.max(rooted, below(before[i]!, state.outer, ligamentMm));
      lined = Math.max(lined, below(before[i]!, state.outer, ligamentMm + LAMINA_MM));
    }
    const depth = bone.crestZ(x) - ray.z;
    if (depth <= 0) continue;
    const half = bone.halfBlMm(depth);
    const inside = Math.min(1, Math.max(0, (half - Math.abs(y)) / STEP_MM + 0.5)) * Math.min(1, depth / 0.25);
    if (inside <= 0) continue;
    const kept = bone.kept(x, y, ray.z);
    const free = inside * (1 - rooted);
    const plate = Math.min(1, Math.max(0, (Math.abs(y) - half + bone.corticalMm) / STEP_MM + 0.5));
    const lid = Math.max(plate, Math.max(0, 1 - depth / 0.55) * 0.8);
    const lining = Math.max(0, lined - rooted) * inside * bone.laminaKept(x, y, ray.z) * liningShare;
    scraps.dense +=
      (free * lid * OPACITY.cortical * (0.12 + 0.88 * kept) + lining * OPACITY.laminaDura) * pathMm;
    scraps.dense += ((rooted - solid) * inside + free * (1 - kept)) * OPACITY.softTissue * pathMm;
    scraps.spongy += free * (1 - lid) * kept * pathMm;
  }
  into[0] = scraps.teeth;
  into[1] = scraps.spongy;
  into[2] = scraps.dense;
}

/** A whole grid of rays; `rayAt` tells where the ray of a grid cell runs. */
export function castFilm(
  teeth: readonly PlacedTooth[],
  bone: Bone,
  grid: { widthPx: number; heightPx: number; rayAt: (column: number, row: number) => Ray },
  beamRad: number,
): Cast {
  const { widthPx, heightPx } = grid;
  const cast: Cast = {
    teeth: blankRaster(widthPx, heightPx),
    spongy: blankRaster(widthPx, heightPx),
    dense: blankRaster(widthPx, heightPx),
  };
  const sums = new Float64Array(3);
  const shear = Math.tan(beamRad);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      castRay(teeth, bone, grid.rayAt(column, row), shear, sums);
      const at = row * widthPx + column;
      cast.teeth.data[at] = sums[0]!;
      cast.spongy.data[at] = sums[1]!;
      cast.dense.data[at] = sums[2]!;
    }
  }
  return cast;
}
