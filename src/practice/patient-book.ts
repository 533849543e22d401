import { nameParts, samePart } from '../core/names.js';
import type { Outcome } from '../core/outcome.js';
import { kept } from '../core/outcome.js';
import type { Practice } from './practice-paths.js';
import { isObject, isText, readRecord, writeRecord } from './record-file.js';

/** One visit of a case. `date` as the sidecar has it, or null. */
export interface VisitEntry {
  id: string;
  date: string | null;
  course: number;
  revision: number;
}

export interface CaseEntry {
  code: string;
  /** The tooth as JSON; two are the same tooth when their JSON says the same. */
  tooth: unknown;
  visits: VisitEntry[];
}

export interface Person {
  chart: string | null;
  names: string[];
  born: string | null;
}

export interface PatientEntry extends Person {
  cases: CaseEntry[];
}

/** private/patients: the only link between a case code and a person. Values; every change makes a new book. */
export interface PatientBook {
  version: 1;
  patients: PatientEntry[];
}

export const emptyPatientBook = (): PatientBook => ({ version: 1, patients: [] });

export async function loadPatients(practice: Practice): Promise<Outcome<PatientBook>> {
  const read = await readRecord(practice, practice.paths.patients, 'patients', isPatientBook);
  return read.kind === 'kept' ? kept(read.value ?? emptyPatientBook()) : read;
}

export const savePatients = (practice: Practice, book: PatientBook): Promise<Outcome<null>> =>
  writeRecord(practice, practice.paths.patients, book);

/** Who has this chart number. `other-person`: someone has it whose name or birth date is clearly another. */
export type FoundByChart =
  | { kind: 'none' }
  | { kind: 'found'; patient: PatientEntry; at: number }
  | { kind: 'other-person'; patient: PatientEntry; at: number };

/**
 * Finds a patient by chart number; capitals and spaces do not matter. Two persons are clearly others when no part
 * of their names is shared, or when the birth dates differ and the names are not the same. They are never merged.
 */
export function findByChart(book: PatientBook, person: Person): FoundByChart {
  if (person.chart === null) return { kind: 'none' };
  const wanted = foldChart(person.chart);
  const at = book.patients.findIndex(({ chart }) => chart !== null && foldChart(chart) === wanted);
  const patient = book.patients[at];
  if (patient === undefined) return { kind: 'none' };
  return { kind: areClearlyOthers(patient, person) ? 'other-person' : 'found', patient, at };
}

const foldChart = (chart: string): string => chart.normalize('NFKC').replace(/\s+/g, '').toUpperCase();

/** More patient than the guard's comparison: a chart number speaks for one person, and names change by marriage. */
function areClearlyOthers(a: Person, b: Person): boolean {
  const partsA = a.names.flatMap(nameParts);
  const partsB = b.names.flatMap(nameParts);
  if (partsA.length === 0 || partsB.length === 0) return differ(a.born, b.born);
  const shares = (part: string, parts: readonly string[]): boolean =>
    parts.some((other) => samePart(part, other));
  const shared = partsA.filter((part) => shares(part, partsB)).length;
  if (shared === 0) return true;
  const allShared = shared === partsA.length && partsB.every((part) => shares(part, partsA));
  return differ(a.born, b.born) && !allShared;
}

const differ = (a: string | null, b: string | null): boolean => a !== null && b !== null && a !== b;

/**
 * Puts a case under a patient, making the patient if `patient` is null and the case if the code is new.
 * Names and birth date not yet known are added; what is on file is never replaced.
 * @returns the new book, and where the patient stands in it
 */
export function addCase(
  book: PatientBook,
  patient: PatientEntry | null,
  person: Person,
  one: { code: string; tooth: unknown },
): { book: PatientBook; at: number } {
  const known = patient === null ? -1 : book.patients.indexOf(patient);
  if (patient !== null && known < 0) throw new TypeError('the patient is not of this book');
  const at = known < 0 ? book.patients.length : known;
  const old = book.patients[known];
  const cases = old?.cases ?? [];
  const entry: PatientEntry = {
    chart: old?.chart ?? person.chart,
    names: [...new Set([...(old?.names ?? []), ...person.names])],
    born: old?.born ?? person.born,
    cases: cases.some(({ code }) => code === one.code) ? cases : [...cases, { ...one, visits: [] }],
  };
  return { book: withPatient(book, at, entry), at };
}

/** Puts a visit into a case; one with the same id is replaced in its place (a new revision). */
export function addVisit(book: PatientBook, at: number, code: string, visit: VisitEntry): PatientBook {
  const patient = book.patients[at];
  if (!patient?.cases.some((one) => one.code === code))
    throw new TypeError('no such case under this patient');
  const cases = patient.cases.map((one) =>
    one.code === code ? { ...one, visits: placed(one.visits, visit) } : one,
  );
  return withPatient(book, at, { ...patient, cases });
}

const placed = (visits: readonly VisitEntry[], visit: VisitEntry): VisitEntry[] =>
  visits.some(({ id }) => id === visit.id)
    ? visits.map((one) => (one.id === visit.id ? visit : one))
    : [...visits, visit];

function withPatient(book: PatientBook, at: number, entry: PatientEntry): PatientBook {
  const patients = [...book.patients];
  patients[at] = entry;
  return { ...book, patients };
}

const textOrNull = (value: unknown): value is string | null => value === null || isText(value);

const isVisit = (value: unknown): boolean =>
  isObject(value) &&
  isText(value['id']) &&
  textOrNull(value['date']) &&
  typeof value['course'] === 'number' &&
  typeof value['revision'] === 'number';

const isCase = (value: unknown): boolean =>
  isObject(value) &&
  isText(value['code']) &&
  Array.isArray(value['visits']) &&
  value['visits'].every(isVisit);

const isPatient = (value: unknown): boolean =>
  isObject(value) &&
  textOrNull(value['chart']) &&
  textOrNull(value['born']) &&
  Array.isArray(value['names']) &&
  value['names'].every(isText) &&
  Array.isArray(value['cases']) &&
  value['cases'].every(isCase);

const isPatientBook = (value: unknown): value is PatientBook =>
  isObject(value) &&
  value['version'] === 1 &&
  Array.isArray(value['patients']) &&
  value['patients'].every(isPatient);
