import { type Print, samePrint } from './print.js';

/** One look at a whole folder: when, by a steady clock, and the print of each file in it by its path. */
export interface Look {
  atMs: number;
  prints: ReadonlyMap<string, Print>;
}

/**
 * True once a whole folder has stopped changing: every file the same in size, modified time, change time and inode,
 * none added, none gone, for `quietMs`. An empty folder never settles.
 * @param looks   oldest first, one per scan; times from a steady clock, never the wall clock
 * @param quietMs how long everything must have stayed equal
 */
export function hasSettled(looks: readonly Look[], quietMs: number): boolean {
  const last = looks.at(-1);
  if (last === undefined || last.prints.size === 0) return false;
  return last.atMs - stillSince(looks) >= quietMs;
}

/** When the earliest look was made that saw what the last one saw, with nothing else in between. */
export function stillSince(looks: readonly Look[]): number {
  const last = looks.at(-1);
  if (last === undefined) return Number.POSITIVE_INFINITY;
  let since = last.atMs;
  for (const look of looks.toReversed()) {
    if (!samePrints(look.prints, last.prints)) break;
    since = look.atMs;
  }
  return since;
}

export function samePrints(a: ReadonlyMap<string, Print>, b: ReadonlyMap<string, Print>): boolean {
  if (a.size !== b.size) return false;
  for (const [path, print] of a) {
    const other = b.get(path);
    if (other === undefined || !samePrint(print, other)) return false;
  }
  return true;
}
