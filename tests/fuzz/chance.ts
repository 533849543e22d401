/** Numbers that look like chance and are the same for the same seed on every machine. */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = (Math.imul(seed, 2654435761) ^ 0x9e3779b9) >>> 0;
  }

  /** A whole number from 0 up to, not including, `below`. The generator is Tommy Ettinger's "mulberry32". */
  below(below: number): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32) * below);
  }

  oneOf<T>(all: readonly T[]): T {
    return all[this.below(all.length)]!;
  }

  /** True once in `times`. */
  once(times: number): boolean {
    return this.below(times) === 0;
  }
}
