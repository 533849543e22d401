/**
 * Guard: in come the patient a sidecar names and what its pictures say about themselves; out goes nothing, or the
 * reason why the whole visit is held: some pictures seem to be another patient's. It refuses to guess: what is absent,
 * unreadable or in another script says nothing, and a person's answer in the sidecar settles it. The reason names
 * pictures, never people.
 */
import { fileKey } from '../../core/file-key.js';
import type { Reason } from '../../core/reasons.js';
import type { FoundText } from '../../finders/finder.js';
import type { Answer, VisitDocument } from '../../trade/visit-document.js';
import { takenOnOtherDays } from './capture-days.js';
import type { GuardedPicture } from './guarded-picture.js';
import { saysOtherPatient } from './metadata-person.js';
import { showsOtherPatient } from './pixel-person.js';

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
  const isOpen = unsettledBy(input.answers);
  const filed = input.filedUnderAnother.filter(isOpen);
  if (filed.length > 0) return { code: 'other-patient', because: 'filed-under-another', pictures: filed };
  const named = input.pictures.filter(({ facts }) => saysOtherPatient(facts.identifying, input.patient));
  const open = named.map(({ name }) => name).filter(isOpen);
  if (open.length > 0) return { code: 'other-patient', because: 'name-in-metadata', pictures: open };
  const isOpenDay = unsettledBy(input.answers, ['other-patient', 'capture-dates']);
  const apart = takenOnOtherDays(input.pictures, input.offsetsSeconds, input.visitDate ?? null).filter(
    isOpenDay,
  );
  return apart.length > 0 ? { code: 'other-patient', because: 'capture-dates', pictures: apart } : null;
}

/** Asked once a visit, when its pictures have been searched: the same for what stands in their pixels. */
export function guardTexts(input: {
  patient: VisitDocument['patient'];
  pictures: { name: string; texts: readonly FoundText[] }[];
  answers: readonly Answer[];
}): Reason | null {
  const isOpen = unsettledBy(input.answers);
  const shown = input.pictures.filter(
    ({ name, texts }) => isOpen(name) && showsOtherPatient(texts, input.patient),
  );
  const pictures = [...new Set(shown.map(({ name }) => name))];
  return pictures.length > 0 ? { code: 'other-patient', because: 'name-in-pixels', pictures } : null;
}

/**
 * A named person's answer settles the picture it names, or all when it names none. Who says only that a picture was
 * rightly taken on another day (`capture-dates`) has not said that a stranger's name in it is none.
 */
function unsettledBy(answers: readonly Answer[], codes = ['other-patient']): (picture: string) => boolean {
  const given = answers.filter(({ code, by }) => codes.includes(code) && by !== null && by.trim() !== '');
  // an answer without a file speaks of the visit
  const settlesAll = given.some(({ file }) => file == null);
  const settled = new Set(given.flatMap(({ file }) => (file == null ? [] : [fileKey(file)])));
  return (picture) => !settlesAll && !settled.has(fileKey(picture));
}
