import type { CanalEntry } from '../../../src/trade/visit-document.js';
import { canal, canalsOf } from '../canal-entries.js';

/** Place in the quadrant -> the canal lists to draw, for the upper and the lower jaw. */
const UPPER: Record<number, string[][]> = {
  1: [['main'], ['B', 'P']],
  2: [['main']],
  3: [['main'], ['B', 'P']],
  4: [['main'], ['B', 'P'], ['MB', 'DB', 'P']],
  5: [['main'], ['B', 'P'], ['MB', 'DB', 'P']],
  6: [
    ['MB1', 'DB', 'P'],
    ['MB1', 'MB2', 'DB', 'P'],
    ['MB1', 'MB2', 'MB3', 'DB', 'DB2', 'P'],
    ['MB', 'DB', 'MP', 'DP'],
  ],
  7: [
    ['MB', 'DB', 'P'],
    ['MB1', 'MB2', 'DB', 'P'],
    ['B', 'P'],
  ],
  8: [['MB', 'DB', 'P'], ['main']],
};

const LOWER: Record<number, string[][]> = {
  1: [['main'], ['B', 'L']],
  2: [['main'], ['B', 'L']],
  3: [['main'], ['B', 'L']],
  4: [['main'], ['B', 'L'], ['MB', 'DB', 'L']],
  5: [['main'], ['B', 'L']],
  6: [
    ['MB', 'ML', 'D'],
    ['MB', 'ML', 'DB', 'DL'],
    ['MB', 'MM', 'ML', 'D'],
  ],
  7: [['MB', 'ML', 'D'], ['MB', 'ML', 'DB', 'DL'], ['M', 'D'], ['C'], ['ML', 'C']],
  8: [['MB', 'ML', 'D'], ['C']],
};

const PRIMARY_UPPER: Record<number, string[][]> = {
  1: [['main']],
  2: [['main']],
  3: [['main']],
  4: [['MB', 'DB', 'P']],
  5: [
    ['MB', 'DB', 'P'],
    ['MB1', 'MB2', 'DB', 'P'],
  ],
};

const PRIMARY_LOWER: Record<number, string[][]> = {
  1: [['main']],
  2: [['main']],
  3: [['main']],
  4: [
    ['MB', 'ML', 'D'],
    ['MB', 'ML', 'DB', 'DL'],
  ],
  5: [
    ['MB', 'ML', 'D'],
    ['MB', 'ML', 'DB', 'DL'],
    ['M', 'D'],
  ],
};

export interface ToothCase {
  fdi: number;
  labels: string[];
  canals: CanalEntry[];
}

/** Every tooth with its usual and its variant canals: both sides of each kind, and the third root. */
export const TOOTH_CASES: ToothCase[] = (
  [
    [[1, 2], UPPER],
    [[3, 4], LOWER],
    [[5, 6], PRIMARY_UPPER],
    [[7, 8], PRIMARY_LOWER],
  ] as const
).flatMap(([quadrants, table]) =>
  quadrants.flatMap((quadrant) =>
    Object.entries(table).flatMap(([place, lists]) =>
      lists.map((labels) => ({ fdi: quadrant * 10 + Number(place), labels, canals: canalsOf(...labels) })),
    ),
  ),
);

const WITH_THIRD_ROOT = [...canalsOf('MB', 'ML', 'DB'), canal('DL', { note: 'third root' })];

export const THIRD_ROOT_CASES: ToothCase[] = [36, 46].map((fdi) => ({
  fdi,
  labels: ['MB', 'ML', 'DB', 'DL'],
  canals: WITH_THIRD_ROOT,
}));

export const ALL_CASES: ToothCase[] = [...TOOTH_CASES, ...THIRD_ROOT_CASES];

export const named = (one: ToothCase): string => `${one.fdi} with ${one.labels.join(', ')}`;
