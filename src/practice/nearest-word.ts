/** The allowed word a mistyped one most likely meant, or null: at most two slips, and fewer than half the letters. */
export function nearestWord(word: string, allowed: readonly string[]): string | null {
  let best: string | null = null;
  let bestSlips = 3;
  for (const candidate of allowed) {
    const slips = slipsBetween(word.toLowerCase(), candidate.toLowerCase());
    if (slips < bestSlips && slips * 2 < candidate.length) {
      best = candidate;
      bestSlips = slips;
    }
  }
  return best;
}

/** Letters added, left out, changed or swapped with a neighbour (optimal string alignment distance). */
function slipsBetween(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > 2) return 3;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let slips = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) slips = Math.min(slips, beforeLast[j - 2]! + 1);
      row.push(slips);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
