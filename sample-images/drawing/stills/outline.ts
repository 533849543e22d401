import { lengthOf } from './curves.js';

/** Closed outlines in the tooth frame (mm) and the signed distance to them (inside positive). */
export type Spot = readonly [x: number, y: number];

/** A closed Catmull-Rom curve through the spots, `steps` points a span. */
export const smoothLoop = (spots: readonly Spot[], steps = 6): Spot[] => {
  const n = spots.length;
  const loop: Spot[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b, c, d] = [-1, 0, 1, 2].map((k) => spots[(i + k + n) % n]!) as [Spot, Spot, Spot, Spot];
    for (let s = 0; s < steps; s++) {
      const t = s / steps;
      const at = (k: 0 | 1): number =>
        0.5 *
        (2 * b[k] +
          (c[k] - a[k]) * t +
          (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * t * t +
          (3 * b[k] - a[k] - 3 * c[k] + d[k]) * t * t * t);
      loop.push([at(0), at(1)]);
    }
  }
  return loop;
};

/** Distance from a spot to a segment, mm. */
export const segmentDistance = (x: number, y: number, a: Spot, b: Spot): number => {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const l = dx * dx + dy * dy;
  const t = l === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / l));
  return lengthOf(x - a[0] - t * dx, y - a[1] - t * dy);
};

/** Distance to an open line of spots, mm. */
export const lineDistance = (x: number, y: number, line: readonly Spot[]): number => {
  let best = Infinity;
  for (let i = 1; i < line.length; i++) best = Math.min(best, segmentDistance(x, y, line[i - 1]!, line[i]!));
  return best;
};

/** Signed distance to a closed loop, mm: positive inside. */
export const loopDistance = (x: number, y: number, loop: readonly Spot[]): number => {
  let best = Infinity;
  let inside = false;
  for (let i = 0, j = loop.length - 1; i < loop.length; j = i++) {
    const a = loop[j]!;
    const b = loop[i]!;
    best = Math.min(best, segmentDistance(x, y, a, b));
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside ? best : -best;
};

/** Convex hull (monotone chain), counter-clockwise in the tooth frame. */
export const hullOf = (spots: readonly Spot[]): Spot[] => {
  const sorted = [...spots].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const turn = (o: Spot, a: Spot, b: Spot): number =>
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
  const half = (list: readonly Spot[]): Spot[] => {
    const chain: Spot[] = [];
    for (const p of list) {
      while (chain.length > 1 && turn(chain[chain.length - 2]!, chain[chain.length - 1]!, p) <= 0)
        chain.pop();
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
};

const STEP_MM = 0.1;
const REACH_MM = 16;
const SIDE = Math.round((2 * REACH_MM) / STEP_MM) + 1;

/**
 * A plane field sampled every 0.1 mm and read back with a cubic B-spline: smooth to the second derivative, so that
 * shading shows no facets of the polygons. The B-spline also rounds corners by about 0.1 mm.
 */
export const smoothField = (value: (x: number, y: number) => number): ((x: number, y: number) => number) => {
  const data = new Float32Array(SIDE * SIDE);
  for (let j = 0; j < SIDE; j++)
    for (let i = 0; i < SIDE; i++) data[j * SIDE + i] = value(i * STEP_MM - REACH_MM, j * STEP_MM - REACH_MM);
  return (x, y) => {
    const fx = Math.max(1, Math.min(SIDE - 3.001, (x + REACH_MM) / STEP_MM));
    const fy = Math.max(1, Math.min(SIDE - 3.001, (y + REACH_MM) / STEP_MM));
    const i = Math.floor(fx);
    const j = Math.floor(fy);
    const t = fx - i;
    const u = fy - j;
    const a = ((1 - t) * (1 - t) * (1 - t)) / 6;
    const b = (3 * t * t * t - 6 * t * t + 4) / 6;
    const d = (t * t * t) / 6;
    const c = 1 - a - b - d;
    let sum = 0;
    for (let k = -1; k < 3; k++) {
      const row = (j + k) * SIDE + i;
      const w =
        k === -1
          ? ((1 - u) * (1 - u) * (1 - u)) / 6
          : k === 0
            ? (3 * u * u * u - 6 * u * u + 4) / 6
            : k === 1
              ? (-3 * u * u * u + 3 * u * u + 3 * u + 1) / 6
              : (u * u * u) / 6;
      sum += w * (a * data[row - 1]! + b * data[row]! + c * data[row + 1]! + d * data[row + 2]!);
    }
    return sum;
  };
};
