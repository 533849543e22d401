/** Root canals as paths in space, so that a length drawn is the length recorded. Tooth frame, millimetres. */
export type Point = readonly [number, number, number];

export interface CanalShape {
  name: string;
  /** From the orifice on the floor to the end of the canal at the root's surface. */
  points: readonly Point[];
  /** Where a file leaves the tooth above: x and y; its height follows from the recorded length. */
  handleXy: readonly [number, number];
  /** Width mesiodistally as found, at the orifice and at the end. */
  widthMm: readonly [number, number];
  /** Buccolingual width in units of the mesiodistal one. */
  flat: number;
  /** Width of the filled canal at the orifice and at the end of the filling. */
  shapedMm: readonly [number, number];
  /** How far from the canal's end the recorded length stops. */
  shortMm: number;
  /** Working length from the stop to the end of the filling; absent for neighbours. */
  lengthMm?: number;
  /** This canal runs into another; its own points end there. */
  joins?: { canal: string; atMm: number };
}

const STEP_MM = 0.1;

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function catmull(p0: Point, p1: Point, p2: Point, p3: Point, t: number): Point {
  const at = (i: 0 | 1 | 2): number =>
    0.5 *
    (2 * p1[i] +
      (p2[i] - p0[i]) * t +
      (2 * p0[i] - 5 * p1[i] + 4 * p2[i] - p3[i]) * t * t +
      (3 * p1[i] - p0[i] - 3 * p2[i] + p3[i]) * t * t * t);
  return [at(0), at(1), at(2)];
}

/** A smooth line through the points, a place about every 0.1 mm. */
export function smoothPath(points: readonly Point[]): Point[] {
  const path: Point[] = [points[0]!];
  for (let i = 0; i < points.length - 1; i++) {
    const p1 = points[i]!;
    const p2 = points[i + 1]!;
    const p0 = points[i - 1] ?? p1;
    const p3 = points[i + 2] ?? p2;
    const pieces = Math.max(1, Math.round(distance(p1, p2) / STEP_MM));
    for (let j = 1; j <= pieces; j++) path.push(catmull(p0, p1, p2, p3, j / pieces));
  }
  return path;
}

export function pathLength(path: readonly Point[]): number {
  return path.slice(1).reduce((sum, point, i) => sum + distance(path[i]!, point), 0);
}

/** The path from `fromMm` to `toMm` along it. */
export function pathPart(path: readonly Point[], fromMm: number, toMm: number): Point[] {
  const part: Point[] = [];
  let walked = 0;
  const mix = (a: Point, b: Point, t: number): Point => [
    a[0] + (b[0] - a[0]) * t,
    a[1] + (b[1] - a[1]) * t,
    a[2] + (b[2] - a[2]) * t,
  ];
  for (let i = 0; i < path.length - 1; i++) {
    const a = path[i]!;
    const b = path[i + 1]!;
    const span = distance(a, b);
    if (walked + span > fromMm && part.length === 0)
      part.push(mix(a, b, Math.max(0, (fromMm - walked) / span)));
    if (walked + span >= toMm) {
      part.push(mix(a, b, Math.max(0, (toMm - walked) / span)));
      return part;
    }
    walked += span;
    if (walked > fromMm) part.push(b);
  }
  return part;
}

export interface MeasuredCanal {
  shape: CanalShape;
  /** Orifice to the canal's end (through the canal it joins, when it joins one). */
  inside: Point[];
  /** Orifice to the end of the filling. */
  filled: Point[];
  /** Only its own part of `filled`: up to the junction. */
  own: Point[];
  /** Stop to orifice, straight. */
  above: Point[];
  /** Height of the stop, mm. */
  stopZ: number;
}

/** Puts the stop where stop-to-end is the recorded length, to a hundredth of a millimetre. */
export function measureCanal(shape: CanalShape, into?: MeasuredCanal): MeasuredCanal {
  const own = smoothPath(shape.points);
  const joined =
    into === undefined ? [] : into.inside.slice(nearestIndex(into.inside, own[own.length - 1]!) + 1);
  const inside = [...own, ...joined];
  const insideMm = pathLength(inside);
  const filled = pathPart(inside, 0, insideMm - shape.shortMm);
  const filledMm = insideMm - shape.shortMm;
  const orifice = inside[0]!;
  const aboveMm = (shape.lengthMm ?? filledMm + 8.8) - filledMm;
  const [hx, hy] = shape.handleXy;
  const side = Math.hypot(hx - orifice[0], hy - orifice[1]);
  const stopZ = orifice[2] + Math.sqrt(Math.max(1, aboveMm * aboveMm - side * side));
  return {
    shape,
    inside,
    filled,
    own: into === undefined ? filled : own,
    above: smoothPath([[hx, hy, stopZ], orifice]),
    stopZ,
  };
}

function nearestIndex(path: readonly Point[], to: Point): number {
  let best = 0;
  path.forEach((point, i) => {
    if (distance(point, to) < distance(path[best]!, to)) best = i;
  });
  return best;
}

/** A canal of a neighbour, of which only the look matters. */
export function simpleCanal(
  name: string,
  points: readonly Point[],
  flat: number,
  wideMm = 0.6,
): MeasuredCanal {
  return measureCanal({
    ...{ name, points, handleXy: [0, 0], widthMm: [wideMm, 0.2], flat, shapedMm: [1, 0.3], shortMm: 0.5 },
  });
}
