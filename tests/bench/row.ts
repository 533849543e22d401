/** One line of the bench table: figures are ratios measured in this run, or plain counts. */
export interface Row {
  what: string;
  /** What is to be reached, in words: "at most 1.2". */
  reach: string;
  measured: string;
  /** Null when the row has no bar of its own. */
  reached: boolean | null;
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] as number;
};

/** Runs two works in turn, A B A B, and gives the median of the pairs' ratios A/B. */
export async function ratio(runs: number, a: () => Promise<void>, b: () => Promise<void>): Promise<number> {
  const ratios: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const first = await time(a);
    const second = await time(b);
    ratios.push(first / second);
  }
  return median(ratios);
}

/** Wall time of one work in milliseconds. */
export async function time(work: () => Promise<void>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

export const row = (what: string, measured: number, most: number): Row => ({
  what,
  reach: `at most ${most}`,
  measured: measured.toFixed(2),
  reached: measured <= most,
});

export const rowAtLeast = (what: string, measured: number, least: number): Row => ({
  what,
  reach: `at least ${least}`,
  measured: measured.toFixed(1),
  reached: measured >= least,
});
