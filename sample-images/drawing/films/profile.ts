/** A size along the height of a tooth, given at a few heights and read anywhere between. */

/** [height in mm, value]; heights rise or fall, all in one direction. */
export type Knot = readonly [number, number];
export type Profile = (zMm: number) => number;

const STEP_MM = 0.05;

function slopes(knots: readonly Knot[]): number[] {
  const secants = knots.slice(1).map(([z, v], i) => (v - knots[i]![1]) / (z - knots[i]![0]));
  return knots.map((_, i) => {
    const before = secants[i - 1] ?? secants[i]!;
    const after = secants[i] ?? before;
    if (before * after <= 0) return 0; // no overshoot at a widest or narrowest place
    return (2 * before * after) / (before + after);
  });
}

function evaluate(knots: readonly Knot[], tangents: readonly number[], z: number): number {
  let i = 0;
  while (i < knots.length - 2 && z > knots[i + 1]![0]) i++;
  const [z0, v0] = knots[i]!;
  const [z1, v1] = knots[i + 1]!;
  const span = z1 - z0;
  const t = Math.min(1, Math.max(0, (z - z0) / span));
  const t2 = t * t;
  const t3 = t2 * t;
  return (
    (2 * t3 - 3 * t2 + 1) * v0 +
    (t3 - 2 * t2 + t) * span * tangents[i]! +
    (-2 * t3 + 3 * t2) * v1 +
    (t3 - t2) * span * tangents[i + 1]!
  );
}

/** Monotone cubic curve through the knots, constant outside, read from a table for speed. */
export function profile(...knots: readonly Knot[]): Profile {
  const sorted = [...knots].sort((p, q) => p[0] - q[0]);
  if (sorted.length === 1) return () => sorted[0]![1];
  const low = sorted[0]![0];
  const high = sorted[sorted.length - 1]![0];
  const tangents = slopes(sorted);
  const count = Math.ceil((high - low) / STEP_MM) + 1;
  const table = new Float64Array(count + 1);
  for (let i = 0; i <= count; i++) table[i] = evaluate(sorted, tangents, Math.min(high, low + i * STEP_MM));
  return (z) => {
    const at = (z - low) / STEP_MM;
    if (at <= 0) return table[0]!;
    if (at >= count - 1) return table[count - 1]!;
    const i = at | 0;
    return table[i]! + (at - i) * (table[i + 1]! - table[i]!);
  };
}
