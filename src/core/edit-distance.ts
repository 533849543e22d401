/**
 * How many slips lie between two words: a letter too many, missing, wrong, or two neighbours swapped
 * (optimal string alignment distance). Symmetric; compares by code point.
 */
export function editDistance(a: string, b: string): number {
  const left = [...a];
  const right = [...b];
  let twoBack: number[] = [];
  let back = Array.from({ length: right.length + 1 }, (_, at) => at);
  for (let i = 1; i <= left.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= right.length; j += 1) {
      const changed = back[j - 1]! + (left[i - 1] === right[j - 1] ? 0 : 1);
      let best = Math.min(changed, back[j]! + 1, row[j - 1]! + 1);
      const swapped = i > 1 && j > 1 && left[i - 1] === right[j - 2] && left[i - 2] === right[j - 1];
      if (swapped) best = Math.min(best, twoBack[j - 2]! + 1);
      row.push(best);
    }
    twoBack = back;
    back = row;
  }
  return back[right.length]!;
}

const LONGEST_WORD = 60;

/** The option a typist most likely meant, or null when none is near: at most one slip per three letters. */
export function nearest(word: string, options: readonly string[]): string | null {
  if (word.length === 0 || word.length > LONGEST_WORD) return null;
  const lower = word.toLowerCase();
  const ranked = options
    .map((option) => ({ option, slips: editDistance(lower, option.toLowerCase()) }))
    .filter(({ option, slips }) => slips <= Math.max(1, Math.floor(Math.min(word.length, option.length) / 3)))
    .sort((a, b) => a.slips - b.slips);
  return ranked[0]?.option ?? null;
}
