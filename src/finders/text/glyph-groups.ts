/** Puts glyph-sized marks together into lines, as the pixel rules find them. All pure. */
import type { FoundBox } from '../finder.js';
import { unionOf } from './boxes.js';

const SMALLEST_PX = 5;

/** Tall enough to be seen as a letter, not taller than lettering gets, and no long line. */
export function isGlyphSized([, , width, height]: FoundBox, tallestPx: number): boolean {
  const long = Math.max(width, height);
  return long >= SMALLEST_PX && long <= tallestPx && Math.min(width, height) >= 1;
}

/** True when the second mark may be the next letter of the first one's line: near beside it, at the same height. */
function follows(a: FoundBox, b: FoundBox): boolean {
  const tall = Math.max(a[3], b[3]);
  const gap = Math.max(a[0], b[0]) - Math.min(a[0] + a[2], b[0] + b[2]);
  const shared = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  return gap <= tall * 0.9 && shared >= Math.min(a[3], b[3]) * 0.5 && tall <= 3 * Math.min(a[3], b[3]) + 4;
}

const flipped = ([x, y, width, height]: FoundBox): FoundBox => [y, x, height, width];

interface Group {
  box: FoundBox;
  marks: FoundBox[];
}

/** Chains of marks in which each follows another. */
function chains(marks: readonly FoundBox[]): Group[] {
  const sorted = [...marks].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const root = sorted.map((_, i) => i);
  const rootOf = (i: number): number => {
    let at = i;
    while (root[at] !== at) at = root[at] as number;
    return at;
  };
  const reach = Math.max(0, ...sorted.map((mark) => Math.max(mark[2], mark[3]))) * 2;
  for (let i = 0; i < sorted.length; i++) {
    const a = sorted[i] as FoundBox;
    for (let j = i + 1; j < sorted.length && (sorted[j] as FoundBox)[0] <= a[0] + a[2] + reach; j++) {
      if (follows(a, sorted[j] as FoundBox)) root[rootOf(j)] = rootOf(i);
    }
  }
  const groups = new Map<number, Group>();
  sorted.forEach((mark, i) => {
    const group = groups.get(rootOf(i));
    if (group) {
      group.box = unionOf(group.box, mark);
      group.marks.push(mark);
    } else groups.set(rootOf(i), { box: mark, marks: [mark] });
  });
  return [...groups.values()];
}

/** Lines across, then lines down among the marks that stand alone; a mark beside no other is a group of its own. */
export function groupGlyphs(marks: readonly FoundBox[]): FoundBox[] {
  const across = chains(marks);
  const alone = across.filter(({ marks }) => marks.length === 1).map(({ box }) => flipped(box));
  const down = chains(alone).map(({ box }) => flipped(box));
  return [...across.filter(({ marks }) => marks.length > 1).map(({ box }) => box), ...down];
}
