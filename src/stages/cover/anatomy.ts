/** What a picture is about, as the sidecar's points place it, and whether a box lies over it. All pure. */
import type { FoundBox } from '../../finders/finder.js';
import type { Point } from '../../trade/visit-document.js';
import type { CoverInput } from './covering.js';

type Entry = CoverInput['entry'];
export type Anatomy = 'root-end' | 'filling' | 'lesion' | 'landmark';

/**
 * Points are single pixels, but what they mark is not: a box counts as over them when it comes this near, as a share
 * of the picture's shorter side. Common practice, no source.
 */
const NEAR_SHARE = 0.01;

/** True when the sidecar places anything in the picture. */
export const hasPoints = ({ paths, lesion, landmarks }: Entry): boolean =>
  paths.length > 0 || (lesion ?? []).length > 0 || Object.keys(landmarks).length > 0;

/** What lies under a box, the gravest first; null when nothing that was placed does. */
export function anatomyUnder(
  box: FoundBox,
  entry: Entry,
  size: { widthPx: number; heightPx: number },
): Anatomy | null {
  const nearPx = Math.min(size.widthPx, size.heightPx) * NEAR_SHARE;
  const wide: FoundBox = [box[0] - nearPx, box[1] - nearPx, box[2] + 2 * nearPx, box[3] + 2 * nearPx];
  const { paths, lesion, landmarks } = entry;
  if (paths.some((path) => rootEndsOf(path).some((point) => isIn(point, wide)))) return 'root-end';
  if (paths.some((path) => touchesLine(filledPartOf(path), wide))) return 'filling';
  if (lesion && touchesArea(lesion, wide)) return 'lesion';
  return Object.values(landmarks).some((point) => isIn(point, wide)) ? 'landmark' : null;
}

type Path = Entry['paths'][number];

const rootEndsOf = ({ points, apex }: Path): Point[] =>
  [apex, points.at(-1) ?? null].filter((point) => point !== null);

/** A path runs from the crown to the apex; it is filled as far as the place on it that is nearest to the filling's end. */
function filledPartOf({ points, fillingEnd }: Path): Point[] {
  if (fillingEnd === null) return [];
  let nearest = { at: 0, distance: Number.POSITIVE_INFINITY };
  for (let at = 1; at < points.length; at += 1) {
    const distance = distanceToSegment(fillingEnd, points[at - 1]!, points[at]!);
    if (distance < nearest.distance) nearest = { at, distance };
  }
  return [...points.slice(0, nearest.at), fillingEnd];
}

function distanceToSegment(point: Point, from: Point, to: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / length2;
  const share = Math.max(0, Math.min(1, along));
  return Math.hypot(point[0] - from[0] - share * dx, point[1] - from[1] - share * dy);
}

const isIn = ([x, y]: Point, [left, top, width, height]: FoundBox): boolean =>
  x >= left && x <= left + width && y >= top && y <= top + height;

const touchesLine = (line: readonly Point[], box: FoundBox): boolean =>
  line.some((point, at) => isIn(point, box) || (at > 0 && crosses(line[at - 1]!, point, box)));

/** A closed outline and all it holds. */
function touchesArea(outline: readonly Point[], box: FoundBox): boolean {
  const first = outline[0];
  if (first === undefined) return false;
  return touchesLine([...outline, first], box) || isInside([box[0], box[1]], outline);
}

/** Liang and Barsky's clipping: whether any part of the segment lies in the box. */
function crosses(from: Point, to: Point, [left, top, width, height]: FoundBox): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [enters, leaves] = [0, 1];
  const sides: [number, number][] = [
    [-dx, from[0] - left],
    [dx, left + width - from[0]],
    [-dy, from[1] - top],
    [dy, top + height - from[1]],
  ];
  for (const [slope, room] of sides) {
    if (slope === 0 && room < 0) return false;
    if (slope < 0) enters = Math.max(enters, room / slope);
    if (slope > 0) leaves = Math.min(leaves, room / slope);
  }
  return enters <= leaves;
}

/** Even-odd rule. */
function isInside([x, y]: Point, outline: readonly Point[]): boolean {
  let inside = false;
  for (let at = 0, before = outline.length - 1; at < outline.length; before = at, at += 1) {
    const [ax, ay] = outline[at]!;
    const [bx, by] = outline[before]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}
