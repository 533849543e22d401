import type { CourseRecord, VisitRecord } from '../../../trade/case-record.js';
import type { CanalEntry, HandOff, VisitState } from '../../../trade/visit-document.js';
import { capital, clause, counted, listed, TREATMENT_TEXT } from './stage-words.js';

/** A label in semibold and what is said about it. */
export interface Answer {
  label: string;
  text: string;
}

/**
 * What the restoring dentist must know, as one paragraph: done and finished or not, what now and by when, what lies
 * in the tooth, mishaps, who recalls. Says only what was recorded, and that something was not where it matters.
 */
export function answersOf(course: CourseRecord): Answer[] {
  const state = stateOf(course);
  if (state === 'consultation' || (state === null && course.kind === 'consultation'))
    return consultation(course);
  return [
    { label: LEAD[state ?? 'unknown'], text: whatWasDone(course, state) },
    ...(state === 'finished' || state === null ? restoration(course) : nextStep(course)),
    { label: 'In the chamber:', text: inTheChamber(course.handoff) },
    mishaps(course.handoff),
    recall(course.handoff),
  ];
}

/** A recall or a consultation after treatment does not undo what was done: the last visit that treated says how it stands. */
function stateOf(course: CourseRecord): VisitState | null {
  const inOrder = course.visits.toSorted((a, b) => a.visit - b.visit);
  const treated = inOrder.findLast(({ state }) => state !== null && state !== 'consultation');
  return treated?.state ?? inOrder.at(-1)?.state ?? null;
}

export const lastVisit = (course: CourseRecord): VisitRecord | undefined =>
  course.visits.toSorted((a, b) => a.visit - b.visit).at(-1);

const LEAD: Record<Exclude<VisitState, 'consultation'> | 'unknown', string> = {
  finished: 'Finished.',
  interim: 'Not finished.',
  emergency: 'Emergency visit, not finished.',
  interrupted: 'Interrupted, not finished.',
  unknown: 'Whether treatment is finished: not recorded.',
};

function whatWasDone(course: CourseRecord, state: VisitState | null): string {
  const kind = course.kind === null ? 'treatment (kind not recorded)' : TREATMENT_TEXT[course.kind];
  const visits = course.visits.length;
  const many = visits === 1 ? 'one visit' : `${counted(visits)} visits`;
  const forWhat = diagnosisOf(course);
  const done =
    state === 'finished'
      ? `${capital(kind)} was completed in ${many}`
      : course.kind === 'emergency'
        ? `${capital(kind)} in ${many}`
        : `${capital(many)} of ${kind} so far`;
  const sentences = [`${done}${forWhat === null ? '; diagnosis not recorded' : ` for ${forWhat}`}.`];
  const canals = canalsDone(course.canals, state);
  if (canals) sentences.push(canals);
  return sentences.join(' ');
}

export function diagnosisOf(course: CourseRecord): string | null {
  const words = [course.diagnosis.pulp, course.diagnosis.apex].flatMap((text) =>
    text === null ? [] : [clause(text)],
  );
  return words.length === 0 ? null : words.join(' with ');
}

/** What people write where nothing was filled; YAML reads an unquoted `no` as this word. */
const NO_FILLING = /^(?:no|none|not|nothing|nil|never|unfilled|false|-+)(?![\p{L}\p{N}])/iu;

/** "Four canals: MB, MM, ML and D, all filled." or which of them are not recorded as filled. */
function canalsDone(canals: readonly CanalEntry[], state: VisitState | null): string | null {
  if (canals.length === 0) return null;
  const names = listed(canals.map((entry) => entry.canal));
  const unfilled = canals
    .filter((entry) => entry.filled === null || NO_FILLING.test(entry.filled.trim()))
    .map((entry) => entry.canal);
  const head = `${capital(counted(canals.length))} ${canals.length === 1 ? 'canal' : 'canals'} (${names})`;
  // Before treatment is finished, what lies in a canal may be a medicament: the table tells, and nothing is summed up.
  if (state !== 'finished' && unfilled.length < canals.length)
    return `${head}; the table says what each holds.`;
  if (unfilled.length === 0) return canals.length === 1 ? `${head}, filled.` : `${head}, all filled.`;
  if (unfilled.length === canals.length) return `${head}; no filling recorded.`;
  return `${head}; no filling recorded for ${listed(unfilled)}.`;
}

function restoration(course: CourseRecord): Answer[] {
  const { handoff } = course;
  const what = handoff.advise === null ? 'advice on the restoration not recorded' : clause(handoff.advise);
  const when = limit(handoff.by, course) ?? 'time limit not recorded';
  const who = handoff.restorer === null ? null : `by ${clause(handoff.restorer)}`;
  return [{ label: 'Now:', text: `${[what, when, who].filter((part) => part !== null).join(', ')}.` }];
}

const COUNT = '(?:\\d+|an?|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)';
const SPAN = new RegExp(`^${COUNT}(\\s*(-|–|to)\\s*${COUNT})?\\s+(day|week|month|year)s?$`, 'i');

/** "4 weeks", "two to three months": a time that counts from a day. "Next week" is none. */
export const isSpan = (text: string): boolean => SPAN.test(clause(text));

/**
 * "4 weeks" becomes "within 4 weeks of visit 2", the visit that said so; other words stand as they were written.
 * The hand-off of a course is that of its last visit.
 */
export function limit(span: string | null, course: CourseRecord): string | null {
  if (span === null) return null;
  const text = clause(span);
  if (!isSpan(text)) return text;
  const last = lastVisit(course);
  const visit = course.visits.length === 1 || !last ? 'the visit' : `visit\u00a0${last.visit}`;
  return `within ${text.replace(/\s+/g, '\u00a0')} of ${visit}`;
}

function nextStep(course: CourseRecord): Answer[] {
  const { handoff } = course;
  const next = handoff.next === null ? 'not recorded' : clause(handoff.next);
  const due = limit(handoff.due, course) ?? 'not recorded';
  const answers = [
    { label: 'Next step:', text: `${next}; due${due.startsWith('within ') ? '' : ':'} ${due}.` },
  ];
  if (handoff.advise === null) return answers;
  const when = limit(handoff.by, course);
  return [...answers, { label: 'Advised:', text: `${clause(handoff.advise)}${when ? `, ${when}` : ''}.` }];
}

/** The barrier and a temporary count as well: all that lies between the mouth and the root filling. */
function inTheChamber(handoff: HandOff): string {
  const parts = [
    handoff.chamber === null ? null : clause(handoff.chamber),
    handoff.barrier === null ? null : `${clause(handoff.barrier)} (orifice barrier)`,
    handoff.temporary === null ? null : `${clause(handoff.temporary)} (temporary filling)`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'not recorded.' : `${parts.join('; ')}.`;
}

const mishaps = (handoff: HandOff): Answer => ({
  label: 'Mishaps:',
  text: handoff.mishaps.length === 0 ? 'none recorded.' : `${handoff.mishaps.map(clause).join('; ')}.`,
});

const recall = (handoff: HandOff): Answer => ({
  label: 'Recall:',
  text: handoff.recall === null ? 'not recorded who recalls and when.' : `${clause(handoff.recall)}.`,
});

function consultation(course: CourseRecord): Answer[] {
  const forWhat = diagnosisOf(course);
  const { handoff } = course;
  const answers = [
    {
      label: 'Consultation, no treatment.',
      text: forWhat === null ? 'Diagnosis not recorded.' : `Diagnosis: ${forWhat}.`,
    },
    ...nextStep(course),
  ];
  if (handoff.mishaps.length > 0) answers.push(mishaps(handoff));
  return [...answers, recall(handoff)];
}
