/**
 * Comes in: every visit on file of one case. Leaves: the de-identified case record, a pure function of them, so
 * that case.json can always be made again. Refuses nothing: what does not fit is a finding, made elsewhere.
 */
import type { CaseRecord, CourseRecord, PictureRecord } from '../../trade/case-record.js';
import type { ToothRef } from '../../trade/tooth-ref.js';
import type { HandOff, VisitDocument } from '../../trade/visit-document.js';
import type { FiledVisit } from './filed-visit.js';
import { mergeCanals, mergeFields } from './merge-visits.js';
import { pictureRecord } from './picture-record.js';
import { daysBetween, yearOf } from './visit-days.js';

export type { FiledPicture, FiledVisit, ShownPicture } from './filed-visit.js';
export { leaveOutTexts } from './leave-out-texts.js';

/**
 * @param code   the case code
 * @param visits every visit of the case, in any order
 * @param audience for whom; a picture limited to others is left out, and with null every limited one
 */
export function buildCase(
  code: string,
  tooth: ToothRef,
  visits: readonly FiledVisit[],
  audience: string | null = null,
): CaseRecord {
  const numbers = [...new Set(visits.map((visit) => visit.document.treatment.course))].sort((a, b) => a - b);
  const courses = numbers.map((number) =>
    byDate(visits.filter((visit) => visit.document.treatment.course === number)),
  );
  return {
    schema: 1,
    case: code,
    tooth,
    courses: courses.map((inOrder, at) => courseRecord(numbers[at] as number, inOrder)),
    pictures: courses.flatMap((inOrder) => picturesOf(inOrder, audience)),
  };
}

/** Oldest first; visits without a date come last, in the order they were filed. */
function byDate(visits: readonly FiledVisit[]): FiledVisit[] {
  const key = (visit: FiledVisit): string => visit.document.visit.date ?? '9999-99-99';
  return visits.toSorted((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}

function courseRecord(course: number, visits: readonly FiledVisit[]): CourseRecord {
  const documents = visits.map((visit) => visit.document);
  const first = documents[0]?.visit.date ?? null;
  return {
    course,
    kind: lastOf(documents, (document) => document.treatment.kind),
    diagnosis: mergeFields(documents.map((document) => document.diagnosis)),
    consent: mergeFields(documents.map((document) => document.consent)),
    canals: mergeCanals(documents.map((document) => document.canals)),
    handoff: handOffOf(documents),
    visits: visits.map((visit, at) => ({
      visit: at + 1,
      day: daysBetween(first, visit.document.visit.date),
      year: yearOf(visit.document.visit.date),
      state: visit.document.visit.state,
      revision: visit.revision,
    })),
  };
}

/**
 * The restoring dentist needs the state as the last visit left it, never the hand-off of an earlier one; but a mishap
 * stays one, at whichever visit it was recorded.
 */
function handOffOf(documents: readonly VisitDocument[]): HandOff {
  const handoffs = documents.map((document) => document.handoff);
  // A recall that records no hand-off leaves the earlier one standing.
  const last = handoffs.findLast((handoff) =>
    Object.values(handoff).some((value) => typeof value === 'string'),
  );
  const mishaps = handoffs.flatMap((handoff) => handoff.mishaps);
  return { ...(last ?? (handoffs.at(-1) as HandOff)), mishaps: [...new Set(mishaps)] };
}

function lastOf<T>(
  documents: readonly VisitDocument[],
  pick: (document: VisitDocument) => T | null,
): T | null {
  for (const document of documents.toReversed()) {
    const value = pick(document);
    if (value !== null) return value;
  }
  return null;
}

function picturesOf(visits: readonly FiledVisit[], audience: string | null): PictureRecord[] {
  return visits.flatMap((visit, at) =>
    visit.pictures.flatMap((picture) => {
      if (picture.status !== 'kept' || !picture.entry || !picture.shown || !picture.number) return [];
      const { audiences } = picture.shown;
      if (audiences && (audience === null || !audiences.includes(audience))) return [];
      const order = visit.document.images.findIndex((image) => image.line === picture.entry?.line);
      const { number, entry, shown, facts } = picture;
      const record = pictureRecord(number, entry, shown, visit.document, at + 1, order);
      return [facts?.object ? { ...record, object: facts.object } : record];
    }),
  );
}
