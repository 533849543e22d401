import { editDistance } from '../core/edit-distance.js';

/** The allowed word a mistyped one most likely meant, or null: at most two slips, and fewer than half the letters. */
export function nearestWord(word: string, allowed: readonly string[]): string | null {
  let best: string | null = null;
  let bestSlips = 3;
  for (const candidate of allowed) {
    const slips = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (slips < bestSlips && slips * 2 < candidate.length) {
      best = candidate;
      bestSlips = slips;
    }
  }
  return best;
}
