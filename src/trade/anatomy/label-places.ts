import {
  type Bounds,
  between,
  boundsOf,
  boxesMeet,
  distanceBetween,
  distanceToSegment,
  isInside,
  type PointMm,
} from './polygon.js';

/** What the labels of a diagram must keep clear of; everything in diagram pose, y up, mm. */
export interface LabelGround {
  marks: readonly { label: string; x: number; y: number; shape: readonly PointMm[] }[];
  crown: readonly PointMm[];
  /** Lines that a label should not cross, with the price of crossing one. */
  lines: readonly { points: readonly PointMm[]; price: number }[];
  access: readonly PointMm[];
  /** Boxes already taken, e.g. the letters at the edges. */
  taken: readonly Bounds[];
  /** Size of the type, mm. */
  textMm: number;
}

export interface LabelPlace {
  x: number;
  /** Baseline of the text. */
  y: number;
  anchor: 'start' | 'middle' | 'end';
  /** From the mark's edge to the text when it stands apart. */
  leader: [PointMm, PointMm] | null;
}

/** Width of capitals and digits as a share of the type size (Source Sans 3 semibold: M 0.85, B 0.62, digits 0.51). */
const CHARACTER_WIDTH = 0.66;
export const CAPITAL_HEIGHT = 0.66;
const DIRECTIONS = 32;
const GAPS = [0.28, 0.55, 0.9, 1.4, 2];
const LEADER_FROM_GAP = 0.9;
const LABEL_GAP_MM = 0.3;

interface Candidate {
  box: Bounds;
  from: PointMm;
  gap: number;
  cost: number;
}

/** One place for each mark, in the marks' order: near it, outside the access, off every other mark, label and line. */
export function placeLabels(ground: LabelGround): LabelPlace[] {
  const options = ground.marks.map((_, at) => candidatesFor(ground, at));
  const chosen: (Candidate | undefined)[] = options.map(() => undefined);
  for (let round = 0; round < 4; round += 1) {
    options.forEach((list, at) => {
      chosen[at] = cheapest(
        list,
        chosen.filter((other, index): other is Candidate => index !== at && other !== undefined),
      );
    });
  }
  return chosen.map((choice, at) => toPlace(choice as Candidate, ground.marks[at] as PointMm, ground.textMm));
}

function cheapest(list: readonly Candidate[], others: readonly Candidate[]): Candidate {
  const price = (one: Candidate): number =>
    one.cost +
    others.filter((other) => boxesMeet(one.box, other.box, LABEL_GAP_MM) || strikes(one, other)).length * 500;
  let best = list[0] as Candidate;
  let least = Number.POSITIVE_INFINITY;
  for (const one of list) {
    const asked = one.cost < least ? price(one) : least;
    if (asked < least) [best, least] = [one, asked];
  }
  return best;
}

/** A leader that runs through the other label, or the other way round; a label close to its mark has none. */
const strikes = (one: Candidate, other: Candidate): boolean => runsInto(one, other) || runsInto(other, one);

function runsInto(one: Candidate, other: Candidate): boolean {
  if (one.gap < LEADER_FROM_GAP) return false;
  const to = nearestOn(one.box, one.from);
  return [0, 0.2, 0.4, 0.6, 0.8].some((t) => inBox(other.box, between(one.from, to, t)));
}

function candidatesFor(ground: LabelGround, at: number): Candidate[] {
  const mark = ground.marks[at] as LabelGround['marks'][number];
  const outward = outwardFrom(ground, mark);
  const directions = ground.marks.length === 1 ? 4 : DIRECTIONS;
  const width = Math.max(1, [...mark.label].length) * CHARACTER_WIDTH * ground.textMm;
  const height = CAPITAL_HEIGHT * ground.textMm;
  return GAPS.flatMap((gap) =>
    Array.from({ length: directions }, (_, step) => {
      const angle = (2 * Math.PI * step) / directions;
      const way = { x: Math.cos(angle), y: Math.sin(angle) };
      const from = farthestAlong(mark.shape, way);
      const reach = gap * ground.textMm;
      const centre = {
        x: from.x + way.x * reach + (way.x * width) / 2,
        y: from.y + way.y * reach + (way.y * height) / 2,
      };
      const box = {
        left: centre.x - width / 2,
        right: centre.x + width / 2,
        bottom: centre.y - height / 2,
        top: centre.y + height / 2,
      };
      const turned = 1 - (way.x * outward.x + way.y * outward.y);
      return { box, from, gap, cost: 3 * gap + 3 * turned + costOf(ground, at, box, from) };
    }),
  );
}

/** Away from the middle of all marks; straight to the side for a single one. */
function outwardFrom(ground: LabelGround, mark: PointMm): PointMm {
  const { left, right, bottom, top } = boundsOf(ground.marks.flatMap((other) => [...other.shape]));
  const away = { x: mark.x - (left + right) / 2, y: mark.y - (bottom + top) / 2 };
  const length = Math.hypot(away.x, away.y);
  return ground.marks.length < 2 || length < 0.05
    ? { x: 1, y: 0 }
    : { x: away.x / length, y: away.y / length };
}

function costOf(ground: LabelGround, at: number, box: Bounds, from: PointMm): number {
  const pad = 0.08 * ground.textMm;
  const onMark = ground.marks.filter((mark) => boxTouches(box, mark.shape, pad)).length;
  const onTaken = ground.taken.filter((other) => boxesMeet(box, other, pad)).length;
  if (onMark + onTaken > 0) return 500 * (onMark + onTaken);
  const crossed = ground.lines.filter((line) => boxTouches(box, line.points, pad));
  const corners = cornersOf(box);
  const outside = corners.some((corner) => !isInside(ground.crown, corner)) ? 5 : 0;
  const inAccess = corners.some((corner) => isInside(ground.access, corner)) ? 3 : 0;
  const to = nearestOn(box, from);
  const through = ground.marks.some((mark, other) => other !== at && meetsOnTheWay(from, to, mark.shape))
    ? 200
    : 0;
  return crossed.reduce((sum, line) => sum + line.price, 0) + outside + inAccess + through;
}

const meetsOnTheWay = (from: PointMm, to: PointMm, shape: readonly PointMm[]): boolean =>
  shape.some((point) => distanceToSegment(point, from, to) < 0.06);

function toPlace(choice: Candidate, mark: PointMm, textMm: number): LabelPlace {
  const { box } = choice;
  const middle = (box.left + box.right) / 2;
  const anchor = box.left > mark.x ? 'start' : box.right < mark.x ? 'end' : 'middle';
  const to = nearestOn(box, choice.from);
  return {
    x: anchor === 'start' ? box.left : anchor === 'end' ? box.right : middle,
    y: box.bottom,
    anchor,
    leader: choice.gap >= LEADER_FROM_GAP ? [choice.from, shortOf(choice.from, to, 0.12 * textMm)] : null,
  };
}

function shortOf(from: PointMm, to: PointMm, by: number): PointMm {
  const length = distanceBetween(from, to) || 1;
  return between(from, to, Math.max(0, (length - by) / length));
}

const farthestAlong = (shape: readonly PointMm[], way: PointMm): PointMm =>
  shape.reduce((best, next) =>
    next.x * way.x + next.y * way.y > best.x * way.x + best.y * way.y ? next : best,
  );

const nearestOn = (box: Bounds, point: PointMm): PointMm => ({
  x: Math.max(box.left, Math.min(box.right, point.x)),
  y: Math.max(box.bottom, Math.min(box.top, point.y)),
});

const cornersOf = (box: Bounds): PointMm[] => [
  { x: box.left, y: box.bottom },
  { x: box.right, y: box.bottom },
  { x: box.right, y: box.top },
  { x: box.left, y: box.top },
];

const inBox = (box: Bounds, point: PointMm, pad = 0): boolean =>
  point.x > box.left - pad &&
  point.x < box.right + pad &&
  point.y > box.bottom - pad &&
  point.y < box.top + pad;

const boxTouches = (box: Bounds, points: readonly PointMm[], pad: number): boolean =>
  points.some((point) => inBox(box, point, pad));
