/** Light jobs pass heavy ones, but after this many in a row one heavy job goes first, so neither kind starves. */
const LIGHT_IN_A_ROW = 8;

/** Jobs waiting for a child, oldest first within light and heavy. Holds only what a job says, never a picture. */
export class JobQueue<T> {
  readonly #light: T[] = [];
  readonly #heavy: T[] = [];
  #lightInARow = 0;

  add(job: T, weight: 'light' | 'heavy'): void {
    (weight === 'light' ? this.#light : this.#heavy).push(job);
  }

  next(): T | undefined {
    const heavyIsDue = this.#heavy.length > 0 && this.#lightInARow >= LIGHT_IN_A_ROW;
    if (this.#light.length > 0 && !heavyIsDue) {
      this.#lightInARow++;
      return this.#light.shift();
    }
    this.#lightInARow = 0;
    return this.#heavy.shift();
  }

  /** Everything that still waits, taken out. */
  drain(): T[] {
    return [...this.#light.splice(0), ...this.#heavy.splice(0)];
  }
}
