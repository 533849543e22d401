import { boundsOf, distanceBetween, type PointMm } from './polygon.js';

const STEPS_PER_SPAN = 10;

/** A dense, closed, smooth curve near its corner points: uniform cubic B-spline, so it never overshoots them. */
export function smoothClosed(corners: readonly PointMm[], steps = STEPS_PER_SPAN): PointMm[] {
  const count = corners.length;
  const corner = (at: number): PointMm => corners[(at + count) % count] as PointMm;
  return corners.flatMap((_, at) =>
    Array.from({ length: steps }, (__, step) =>
      spline(corner(at - 1), corner(at), corner(at + 1), corner(at + 2), step / steps),
    ),
  );
}

function spline(a: PointMm, b: PointMm, c: PointMm, d: PointMm, t: number): PointMm {
  const wa = (1 - t) ** 3 / 6;
  const wb = (3 * t ** 3 - 6 * t ** 2 + 4) / 6;
  const wc = (-3 * t ** 3 + 3 * t ** 2 + 3 * t + 1) / 6;
  const wd = t ** 3 / 6;
  return {
    x: a.x * wa + b.x * wb + c.x * wc + d.x * wd,
    y: a.y * wa + b.y * wb + c.y * wc + d.y * wd,
  };
}

/** Stretched along x and y so that it is exactly `width` by `height`, centred on `centre`. */
export function fitTo(points: readonly PointMm[], width: number, height: number, centre: PointMm): PointMm[] {
  const { left, right, bottom, top } = boundsOf(points);
  return points.map((point) => ({
    x: centre.x + ((point.x - (left + right) / 2) / (right - left)) * width,
    y: centre.y + ((point.y - (bottom + top) / 2) / (top - bottom)) * height,
  }));
}

/** A dense, open curve through every point (Catmull-Rom with mirrored ends). */
export function smoothThrough(points: readonly PointMm[]): PointMm[] {
  const last = points.length - 1;
  const at = (index: number): PointMm => {
    if (index < 0) return mirrored(points[0] as PointMm, points[1] as PointMm);
    if (index > last) return mirrored(points[last] as PointMm, points[last - 1] as PointMm);
    return points[index] as PointMm;
  };
  const spans = points
    .slice(0, -1)
    .flatMap((_, index) =>
      Array.from({ length: STEPS_PER_SPAN }, (__, step) =>
        catmull(at(index - 1), at(index), at(index + 1), at(index + 2), step / STEPS_PER_SPAN),
      ),
    );
  return [...spans, points[last] as PointMm];
}

const mirrored = (end: PointMm, next: PointMm): PointMm => ({ x: 2 * end.x - next.x, y: 2 * end.y - next.y });

function catmull(a: PointMm, b: PointMm, c: PointMm, d: PointMm, t: number): PointMm {
  const one = (a1: number, b1: number, c1: number, d1: number): number =>
    0.5 *
    (2 * b1 +
      (c1 - a1) * t +
      (2 * a1 - 5 * b1 + 4 * c1 - d1) * t ** 2 +
      (3 * b1 - a1 - 3 * c1 + d1) * t ** 3);
  return { x: one(a.x, b.x, c.x, d.x), y: one(a.y, b.y, c.y, d.y) };
}

/** A line from `a` to `b` that bows sideways by `bowMm`, positive to the left of the way. */
export function bowed(a: PointMm, b: PointMm, bowMm: number): PointMm[] {
  const length = distanceBetween(a, b) || 1;
  const middle = {
    x: (a.x + b.x) / 2 - ((b.y - a.y) / length) * bowMm,
    y: (a.y + b.y) / 2 + ((b.x - a.x) / length) * bowMm,
  };
  return smoothThrough([a, middle, b]);
}

/** An ellipse with half-axes `rx` and `ry`, counter-clockwise. */
export function ellipse(centre: PointMm, rx: number, ry: number, count = 36): PointMm[] {
  return Array.from({ length: count }, (_, step) => {
    const angle = (2 * Math.PI * step) / count;
    return { x: centre.x + rx * Math.cos(angle), y: centre.y + ry * Math.sin(angle) };
  });
}

/** The outline of a line drawn `width` wide with round ends, counter-clockwise or clockwise as the line runs. */
export function slitAround(line: readonly PointMm[], width: number): PointMm[] {
  const half = width / 2;
  const normal = (at: number): PointMm => {
    const from = line[Math.max(0, at - 1)] as PointMm;
    const to = line[Math.min(line.length - 1, at + 1)] as PointMm;
    const length = distanceBetween(from, to) || 1;
    return { x: (-(to.y - from.y) / length) * half, y: ((to.x - from.x) / length) * half };
  };
  const side = (sign: 1 | -1): PointMm[] =>
    line.map((point, at) => ({ x: point.x + sign * normal(at).x, y: point.y + sign * normal(at).y }));
  return [...side(1), ...cap(line, -1, half), ...side(-1).toReversed(), ...cap(line, 0, half)];
}

/** Half a circle around an end of the line: 0 the start, -1 the end. */
function cap(line: readonly PointMm[], end: 0 | -1, radius: number): PointMm[] {
  const tip = line.at(end) as PointMm;
  const inner = (end === 0 ? line[1] : line.at(-2)) as PointMm;
  const outward = Math.atan2(tip.y - inner.y, tip.x - inner.x);
  return [60, 30, 0, -30, -60].map((degrees) => {
    const angle = outward + (degrees * Math.PI) / 180;
    return { x: tip.x + radius * Math.cos(angle), y: tip.y + radius * Math.sin(angle) };
  });
}
