/** From many boxes to few: clipped to the picture, whole pixels, no box inside another, in a fixed order. All pure. */
import { areaOf, clipped, type Size, sharedArea, unionOf } from '../../finders/text/boxes.js';
import type { Cover } from './covering.js';

/** Two boxes become one when that paints at most this much more than both together. */
const MOST_WASTE = 0.1;
const FIRST: Record<Cover['kind'], number> = { 'by-hand': 0, zone: 1, text: 2 };

/** The same covers give the same list, in whatever order they come. */
export function mergeCovers(covers: readonly Cover[], size: Size): Cover[] {
  let merged = covers
    .flatMap((cover): Cover[] => {
      const box = clipped(cover.box, size);
      return box ? [{ ...cover, box }] : [];
    })
    .sort(inOrder);
  for (let before = -1; before !== merged.length; ) {
    before = merged.length;
    merged = mergeOnce(merged);
  }
  return merged;
}

function mergeOnce(covers: readonly Cover[]): Cover[] {
  const merged: Cover[] = [];
  for (const cover of covers) {
    const at = merged.findIndex((one) => joined(one, cover) !== null);
    if (at < 0) merged.push(cover);
    else merged[at] = joined(merged[at]!, cover)!;
  }
  return merged.sort(inOrder);
}

/** One cover for both, or null. A person's box or a zone swallows what it holds and is never changed. */
function joined(a: Cover, b: Cover): Cover | null {
  const [high, low] = FIRST[a.kind] <= FIRST[b.kind] ? [a, b] : [b, a];
  const shared = sharedArea(a.box, b.box);
  if (high.kind !== 'text') {
    if (shared === areaOf(low.box)) return high;
    return high.kind === low.kind && shared === areaOf(high.box) ? low : null;
  }
  const box = unionOf(a.box, b.box);
  const together = areaOf(a.box) + areaOf(b.box) - shared;
  if (shared === 0 || areaOf(box) > together * (1 + MOST_WASTE)) return null;
  return { box, kind: 'text', doubtful: a.doubtful || b.doubtful };
}

/** Top to bottom, left to right; equal corners by size and kind. */
const inOrder = (a: Cover, b: Cover): number =>
  a.box[1] - b.box[1] ||
  a.box[0] - b.box[0] ||
  b.box[3] - a.box[3] ||
  b.box[2] - a.box[2] ||
  FIRST[a.kind] - FIRST[b.kind] ||
  Number(a.doubtful) - Number(b.doubtful);
