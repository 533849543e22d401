import type { Reason } from '../../core/reasons.js';
import type { FoundBox } from '../../finders/finder.js';
import { clipped } from '../../finders/text/boxes.js';
import { isRadiograph } from '../../trade/views.js';
import { type Anatomy, anatomyUnder, hasPoints } from './anatomy.js';
import { gapsInLines } from './bridge-gaps.js';
import type { Cover, CoverInput, Covering, Look } from './covering.js';
import { holds, isDoubtful, isSigned, textsToCover } from './kept-texts.js';
import { mergeCovers } from './merge-covers.js';

/**
 * The middle of a radiograph is what is left without this share of its width at either side and of its height above
 * and below: devices write along the edge. Common practice, no source.
 */
const EDGE_SHARE = 0.15;

/** Boxes to paint, looks, and the hold when a box lies over what the picture is about and nobody has decided it. */
export function decideCovers(input: CoverInput): Covering {
  const { entry } = input;
  const texts = textsToCover(input.texts, entry.keep);
  const gaps = gapsInLines(
    texts.map(({ box }) => box),
    entry.keep.filter(isSigned).map(({ box }) => box),
  );
  const covers = mergeCovers(
    [
      ...entry.cover.map(({ box }): Cover => ({ box, kind: 'by-hand', doubtful: false })),
      ...input.zones.map((box): Cover => ({ box, kind: 'zone', doubtful: false })),
      ...texts.map((text): Cover => ({ box: text.box, kind: 'text', doubtful: isDoubtful(text) })),
      ...gaps.map((box): Cover => ({ box, kind: 'text', doubtful: false })),
    ],
    input,
  );
  const open = covers.filter(({ box }) => !isDecided(box, input));
  return { covers, looks: [...looksAt(open, input), ...looksAtKeeps(input)], hold: holdFor(open, input) };
}

/** A named person's cover: that holds a box says that it is to be painted. */
function isDecided(box: FoundBox, input: CoverInput): boolean {
  return input.entry.cover.some((cover) => {
    const whole = clipped(cover.box, input);
    return isSigned(cover) && whole !== null && holds(whole, box);
  });
}

const GRAVEST: readonly Anatomy[] = ['root-end', 'filling', 'lesion', 'landmark'];

function holdFor(open: readonly Cover[], input: CoverInput): Reason | null {
  const over = open.flatMap(({ box }) => {
    const anatomy = anatomyUnder(box, input.entry, input);
    return anatomy ? [{ box, anatomy }] : [];
  });
  const gravest = GRAVEST.find((anatomy) => over.some((one) => one.anatomy === anatomy));
  if (!gravest) return null;
  const places = over.map(({ box }) => box);
  return { code: 'cover-over-anatomy', over: gravest, boxes: places.length, places };
}

function looksAt(open: readonly Cover[], input: CoverInput): Look[] {
  const isUnplaced = isRadiograph(input.entry.view) && !hasPoints(input.entry);
  return open.flatMap(({ box, doubtful }): Look[] => [
    ...(doubtful ? [{ code: 'doubtful-cover' as const, box }] : []),
    ...(isUnplaced && reachesMiddle(box, input) ? [{ code: 'cover-unplaced' as const, box }] : []),
  ]);
}

function reachesMiddle(
  [x, y, width, height]: FoundBox,
  { widthPx, heightPx }: { widthPx: number; heightPx: number },
): boolean {
  const [acrossPx, downPx] = [widthPx * EDGE_SHARE, heightPx * EDGE_SHARE];
  return x < widthPx - acrossPx && x + width > acrossPx && y < heightPx - downPx && y + height > downPx;
}

function looksAtKeeps(input: CoverInput): Look[] {
  return input.entry.keep.flatMap((keep): Look[] => {
    const box = clipped(keep.box, input);
    if (!box) return [];
    if (!isSigned(keep)) return [{ code: 'keep-unsigned', box }];
    return (keep.why ?? '').trim() === '' ? [{ code: 'text-kept', box }] : [];
  });
}
