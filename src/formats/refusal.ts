import { held, kept, type Outcome } from '../core/outcome.js';
import type { Reason } from '../core/reasons.js';

/**
 * Leaves a parser from any depth. It never leaves the room: `outcomeOf` turns it into a held outcome, so callers
 * only ever see data.
 */
class Refusal extends Error {
  constructor(readonly reason: Reason) {
    super(reason.code);
  }
}

/** The bytes contradict the format, or end too early. `what` never quotes the file. */
export function refuseDamaged(format: string, what: string): never {
  throw new Refusal({ code: 'damaged', format, what });
}

/** Lawful perhaps, but nothing that is ever let through. */
export function refuseUnusual(format: string, what: string): never {
  throw new Refusal({ code: 'unusual', format, what });
}

export function refuseTooLarge(widthPx: number, heightPx: number, limitPx: number): never {
  throw new Refusal({
    code: 'too-many-pixels',
    megapixels: Math.round((widthPx * heightPx) / 1e6),
    limitMegapixels: Math.round(limitPx / 1e6),
  });
}

/** Runs a parser. A read past the end of the bytes (Buffer's ERR_OUT_OF_RANGE) means a damaged file. */
export function outcomeOf<T>(format: string, parse: () => T): Outcome<T> {
  try {
    return kept(parse());
  } catch (error) {
    if (error instanceof Refusal) return held(error.reason);
    if (error instanceof RangeError && 'code' in error)
      return held({ code: 'damaged', format, what: 'it ends too early' });
    throw error;
  }
}

/** Runs a second read; bytes it cannot walk are themselves a finding. */
export function leftoversOf(walk: () => string[]): string[] {
  try {
    return walk();
  } catch (error) {
    if (error instanceof RangeError) return ['unreadable'];
    throw error;
  }
}
