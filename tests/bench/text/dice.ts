/** Seeded choices: the same seed makes the same choices on every machine. */
import { unitHash } from '../../../sample-images/drawing/seeded.js';

export interface Dice {
  /** From 0 up to, not including, 1. */
  unit(): number;
  between(least: number, most: number): number;
  /** Both ends included. */
  whole(least: number, most: number): number;
  one<T>(of: readonly T[]): T;
  chance(share: number): boolean;
}

/** @param stream keeps two kinds of choices under one seed apart */
export function openDice(seed: number, stream: number): Dice {
  let count = 0;
  const unit = (): number => unitHash(count++, stream, 77, seed);
  const between = (least: number, most: number): number => least + (most - least) * unit();
  return {
    unit,
    between,
    whole: (least, most) => Math.floor(between(least, most + 1)),
    one: (of) => of[Math.floor(unit() * of.length)]!,
    chance: (share) => unit() < share,
  };
}
