import type { Reason } from './reasons.js';

/**
 * What a step made of one thing. Outcomes are data: a step never throws for bad input, only for bugs.
 * `kept`: the value is good. `held`: a person must look. `failed`: the machine could not (disk, memory, a bug).
 */
export type Outcome<T> =
  | { kind: 'kept'; value: T }
  | { kind: 'held'; reason: Reason }
  | { kind: 'failed'; reason: Reason };

export const kept = <T>(value: T): Outcome<T> => ({ kind: 'kept', value });
export const held = (reason: Reason): Outcome<never> => ({ kind: 'held', reason });
export const failed = (reason: Reason): Outcome<never> => ({ kind: 'failed', reason });
