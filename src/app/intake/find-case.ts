import { comparePersons } from '../../core/names.js';
import type { Reason } from '../../core/reasons.js';
import { findByChart, type PatientEntry } from '../../practice/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { type OnFile, type StoredVisit, sameTooth } from '../on-file.js';

/** Where a document of a sidecar belongs in what is on file; each part null when it is new. */
export interface Belonging {
  patient: PatientEntry | null;
  code: string | null;
  visit: StoredVisit | null;
}

/**
 * Finds patient, case and visit of a document.
 * By chart number; without one, only a visit that was itself filed without a number and shares a picture with this
 * drop is taken as the same, so that a corrected sidecar finds its visit and two strangers never meet.
 * @param sha256s of every picture in the drop
 * @param own      of those among them that no other document of the sidecar lists
 */
export function findCase(
  onFile: OnFile,
  document: VisitDocument,
  sha256s: ReadonlySet<string>,
  own: ReadonlySet<string> = sha256s,
): Belonging {
  const patient = byChart(onFile, document) ?? byPictures(onFile, document, sha256s);
  if (!patient) return { patient: null, code: null, visit: null };
  const one = patient.cases.find((found) => sameTooth(found.tooth as never, document.tooth));
  if (!one) return { patient, code: null, visit: null };
  const visits = one.visits.flatMap(({ id }) => onFile.visits.get(id) ?? []);
  return { patient, code: one.code, visit: sameVisit(visits, document, own) };
}

function byChart(onFile: OnFile, document: VisitDocument): PatientEntry | undefined {
  const found = findByChart(onFile.book, document.patient);
  return found.kind === 'none' ? undefined : found.patient;
}

function byPictures(
  onFile: OnFile,
  document: VisitDocument,
  sha256s: ReadonlySet<string>,
): PatientEntry | undefined {
  for (const sha256 of sha256s) {
    for (const place of onFile.places.get(sha256) ?? []) {
      const { patient, visit } = place;
      if (patient.chart !== null || visit.document.visit.date !== document.visit.date) continue;
      if (namesAgree(patient.names, document.patient.names)) return patient;
    }
  }
  return undefined;
}

/** An absent name says nothing; two given names must mean one person. */
export const namesAgree = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === 0 ||
  b.length === 0 ||
  a.some((one) => b.some((other) => comparePersons(one, other) !== 'other'));

/**
 * The visit of the same day; else the one with just the pictures of this drop, since the same pictures under another
 * date are a corrected date and no second visit. Fewer or more pictures may be a second visit that shows an earlier
 * picture again. Two visits without a date are one only if they have a picture in common, or the drop has none.
 */
function sameVisit(
  visits: readonly StoredVisit[],
  document: VisitDocument,
  own: ReadonlySet<string>,
): StoredVisit | null {
  const { date } = document.visit;
  const { course } = document.treatment;
  const sameDay = visits.filter(
    (visit) =>
      visit.document.visit.date === date &&
      (date !== null || own.size === 0 || visit.pictures.some(({ sha256 }) => own.has(sha256))),
  );
  const sameCourse = sameDay.find((visit) => visit.document.treatment.course === course);
  if (sameCourse ?? sameDay[0]) return sameCourse ?? (sameDay[0] as StoredVisit);
  const hasTheSame = (visit: StoredVisit): boolean => {
    const has = new Set(visit.pictures.map((picture) => picture.sha256));
    const kept = visit.pictures.filter(({ status }) => status === 'kept');
    return [...own].every((sha256) => has.has(sha256)) && kept.every(({ sha256 }) => own.has(sha256));
  };
  return own.size > 0 ? (visits.find(hasTheSame) ?? null) : null;
}

/** A chart number that is on file with a clearly other name is somebody's slip, and nobody's to merge. */
export function chartClash(onFile: OnFile, document: VisitDocument): Reason | null {
  if (findByChart(onFile.book, document.patient).kind !== 'other-person') return null;
  return { code: 'other-patient', because: 'chart-of-another', pictures: [] };
}

/** Names of the drop's pictures that stand on file under somebody else. */
export function filedUnderAnother(
  onFile: OnFile,
  patient: PatientEntry | null,
  pictures: readonly { name: string; sha256: string }[],
): string[] {
  return pictures
    .filter(({ sha256 }) => (onFile.places.get(sha256) ?? []).some((place) => place.patient !== patient))
    .map(({ name }) => name);
}
