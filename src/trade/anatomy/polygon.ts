/** A point of a drawing in millimetres. */
export interface PointMm {
  x: number;
  y: number;
}

/** Twice-signed area formula; positive when the points run counter-clockwise with y up. */
export function areaOf(polygon: readonly PointMm[]): number {
  let twice = 0;
  eachEdge(polygon, (a, b) => {
    twice += a.x * b.y - b.x * a.y;
  });
  return twice / 2;
}

/** Centre of the area, not of the corners. */
export function centroidOf(polygon: readonly PointMm[]): PointMm {
  const area = areaOf(polygon);
  let x = 0;
  let y = 0;
  eachEdge(polygon, (a, b) => {
    const cross = a.x * b.y - b.x * a.y;
    x += (a.x + b.x) * cross;
    y += (a.y + b.y) * cross;
  });
  return { x: x / (6 * area), y: y / (6 * area) };
}

export function isInside(polygon: readonly PointMm[], point: PointMm): boolean {
  let inside = false;
  let a = polygon.at(-1) as PointMm;
  for (const b of polygon) {
    const crosses = a.y > point.y !== b.y > point.y;
    if (crosses && point.x < a.x + ((point.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
    a = b;
  }
  return inside;
}

/** Distance from a point to the nearest place on the border, always positive. */
export function distanceToBorder(polygon: readonly PointMm[], point: PointMm): number {
  let nearest = Number.POSITIVE_INFINITY;
  eachEdge(polygon, (a, b) => {
    nearest = Math.min(nearest, distanceToSegment(point, a, b));
  });
  return nearest;
}

export function distanceToSegment(point: PointMm, a: PointMm, b: PointMm): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy || 1;
  const t = Math.max(0, Math.min(1, ((point.x - a.x) * dx + (point.y - a.y) * dy) / square));
  return Math.sqrt((point.x - a.x - t * dx) ** 2 + (point.y - a.y - t * dy) ** 2);
}

export const distanceBetween = (a: PointMm, b: PointMm): number => Math.hypot(a.x - b.x, a.y - b.y);

export const midpointOf = (a: PointMm, b: PointMm): PointMm => between(a, b, 0.5);

/** The point a share `t` of the way from `a` to `b`. */
export const between = (a: PointMm, b: PointMm, t: number): PointMm => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
});

export interface Bounds {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

export function boundsOf(points: readonly PointMm[]): Bounds {
  const xs = points.map((point) => point.x);
  const ys = points.map((point) => point.y);
  return { left: Math.min(...xs), right: Math.max(...xs), bottom: Math.min(...ys), top: Math.max(...ys) };
}

/** True when two boxes overlap or come closer than `gap`. */
export const boxesMeet = (a: Bounds, b: Bounds, gap: number): boolean =>
  a.left < b.right + gap && b.left < a.right + gap && a.bottom < b.top + gap && b.bottom < a.top + gap;

/** Convex hull, counter-clockwise (Andrew's monotone chain). */
export function hullOf(points: readonly PointMm[]): PointMm[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const half = (run: readonly PointMm[]): PointMm[] => {
    const chain: PointMm[] = [];
    for (const point of run) {
      while (chain.length > 1 && turn(chain.at(-2) as PointMm, chain.at(-1) as PointMm, point) <= 0)
        chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.toReversed())];
}

const turn = (a: PointMm, b: PointMm, c: PointMm): number =>
  (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/** The part of `polygon` inside the convex, counter-clockwise `window` (Sutherland and Hodgman). */
export function clipTo(window: readonly PointMm[], polygon: readonly PointMm[]): PointMm[] {
  let kept = [...polygon];
  eachEdge(window, (a, b) => {
    const next: PointMm[] = [];
    eachEdge(kept, (from, to) => {
      const fromSide = turn(a, b, from);
      const toSide = turn(a, b, to);
      if (fromSide >= 0) next.push(from);
      if (fromSide >= 0 !== toSide >= 0) next.push(between(from, to, fromSide / (fromSide - toSide)));
    });
    kept = next;
  });
  return kept;
}

function eachEdge(polygon: readonly PointMm[], visit: (from: PointMm, to: PointMm) => void): void {
  polygon.forEach((from, at) => {
    visit(from, polygon[(at + 1) % polygon.length] as PointMm);
  });
}
