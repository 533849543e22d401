import type { FoundBox } from '../../finders/finder.js';
import { sharedArea } from '../../finders/text/boxes.js';

/**
 * The gaps inside a torn line. Where writing runs over bright metal the finder loses letters in the middle, so two
 * pieces of one line (across) with at most a line's height between them have what lies between covered as well. A
 * gap that holds something a person keeps stays open. All pure.
 */
export function gapsInLines(boxes: readonly FoundBox[], keeps: readonly FoundBox[]): FoundBox[] {
  return boxes
    .flatMap((left) => boxes.map((right) => gapBetween(left, right)))
    .filter((gap) => gap !== null)
    .filter((gap) => !keeps.some((keep) => sharedArea(keep, gap) > 0));
}

function gapBetween(left: FoundBox, right: FoundBox): FoundBox | null {
  const start = left[0] + left[2];
  const width = right[0] - start;
  const shared = Math.min(left[1] + left[3], right[1] + right[3]) - Math.max(left[1], right[1]);
  const isLine = shared >= Math.min(left[3], right[3]) / 2 && left[2] >= left[3] && right[2] >= right[3];
  if (!isLine || width <= 0 || width > Math.max(left[3], right[3])) return null;
  const top = Math.min(left[1], right[1]);
  // a pixel into both, so that even pieces become one box
  return [start - 1, top, width + 2, Math.max(left[1] + left[3], right[1] + right[3]) - top];
}
