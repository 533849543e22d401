/** What was found of what was printed. */

import type { FoundBox } from '../../../src/finders/finder.js';
import { areaOf, sharedArea } from '../../../src/finders/text/boxes.js';
import type { TrueString } from './printed-picture.js';

/** A string counts as found when this much of the box of its ink is covered. */
const COVERED = 0.9;

/** Pixels of the box that lie in at least one of the others. */
export function coveredArea(box: FoundBox, by: readonly FoundBox[]): number {
  const [x, y, width, height] = box;
  const near = by.filter((other) => sharedArea(box, other) > 0);
  const mask = new Uint8Array(width * height);
  for (const [left, top, wide, high] of near) {
    const from = Math.max(0, left - x);
    const to = Math.min(width, left + wide - x);
    for (let row = Math.max(0, top - y); row < Math.min(height, top + high - y); row++) {
      mask.fill(1, row * width + from, row * width + to);
    }
  }
  return mask.reduce((sum, one) => sum + one, 0);
}

export const isCovered = (box: FoundBox, by: readonly FoundBox[]): boolean =>
  coveredArea(box, by) >= COVERED * areaOf(box);

/** Kinds of strings the table has a line for; a string may belong to several. */
export type Group = 'all' | 'clear' | 'low' | 'lone' | 'still';

const CLEAR_CONTRAST = 50;

export function groupsOf(string: TrueString, onStill: boolean): Group[] {
  const lone = string.kind === 'side' || string.kind === 'tooth';
  const plain = string.framed || string.contrast >= CLEAR_CONTRAST;
  const groups: Group[] = ['all'];
  if (lone) groups.push('lone');
  if (plain && !lone && string.kind !== 'scale') groups.push('clear');
  if (!plain) groups.push('low');
  if (onStill) groups.push('still');
  return groups;
}
