/**
 * Guard: in come the patient a sidecar names and what its pictures say about themselves; out goes nothing, or the
 * reason why the whole visit is held: some pictures seem to be another patient's. It refuses to guess: what is absent,
 * unreadable or in another script says nothing, and a person's answer in the sidecar settles it. The reason names
 * pictures, never people.
 */
import type { Reason } from '../../core/reasons.js';
import type { Answer, VisitDocument } from '../../trade/visit-document.js';
import { takenOnOtherDays } from './capture-days.js';
import type { GuardedPicture } from './guarded-picture.js';
import { saysOtherPatient } from './metadata-person.js';

export interface GuardInput {
  patient: VisitDocument['patient'];
  /** Day of the visit, ISO 8601; tells which of two clusters is the visit's own. */
  visitDate?: string | null;
  pictures: readonly GuardedPicture[];
  /** Names of pictures that are already filed under another patient. */
  filedUnderAnother: readonly string[];
  /** Seconds to add to capture times, by picture name or by source. */
  offsetsSeconds: Readonly<Record<string, number>>;
  answers: readonly Answer[];
}

/** Asked once a visit, before anything is made of it. The surest ground is named first. */
export function guard(input: GuardInput): Reason | null {
  if (input.answers.some((answer) => answer.code === 'other-patient' && isGiven(answer.by))) return null;
  if (input.filedUnderAnother.length > 0) {
    return { code: 'other-patient', because: 'filed-under-another', pictures: [...input.filedUnderAnother] };
  }
  const named = input.pictures.filter(({ facts }) => saysOtherPatient(facts.identifying, input.patient));
  if (named.length > 0) {
    return { code: 'other-patient', because: 'name-in-metadata', pictures: named.map(({ name }) => name) };
  }
  const apart = takenOnOtherDays(input.pictures, input.offsetsSeconds, input.visitDate ?? null);
  return apart.length > 0 ? { code: 'other-patient', because: 'capture-dates', pictures: apart } : null;
}

const isGiven = (by: string | null): boolean => by !== null && by.trim() !== '';
