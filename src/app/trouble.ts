import type { Outcome } from '../core/outcome.js';
import { sentenceOf } from '../core/reason-sentence.js';
import type { Reason } from '../core/reasons.js';

/** The machine could not go on (disk, memory): ends the command with exit 1, nothing half-written. */
export class Trouble extends Error {
  constructor(readonly reason: Reason) {
    super(sentenceOf(reason));
    this.name = 'Trouble';
  }
}

/** The value of an outcome that only trouble with the machine can spoil. */
export function orTrouble<T>(outcome: Outcome<T>): T {
  if (outcome.kind === 'kept') return outcome.value;
  throw new Trouble(outcome.reason);
}
