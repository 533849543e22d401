import type { IdentifyingString } from '../../core/picture-facts.js';
import type { PatientEntry, Practice } from '../../practice/index.js';
import type { AuditTerms } from '../../stages/audit/index.js';
import { caseOf, type OnFile, type StoredVisit, visitsOfCase } from '../on-file.js';

/** What finished output of one case is searched for: everything known of its patient, from any of the patient's cases. */
export function termsOfCase(
  practice: Practice,
  onFile: OnFile,
  code: string,
  shareCodes: readonly string[] = [],
): AuditTerms {
  const owner = caseOf(onFile, code);
  return termsOf(practice, onFile, owner ? [owner.patient] : [], shareCodes);
}

/** The same for every patient on file. */
export const termsOfPractice = (
  practice: Practice,
  onFile: OnFile,
  shareCodes: readonly string[] = [],
): AuditTerms => termsOf(practice, onFile, onFile.book.patients, shareCodes);

function termsOf(
  practice: Practice,
  onFile: OnFile,
  patients: readonly PatientEntry[],
  shareCodes: readonly string[],
): AuditTerms {
  const visitsOf = (patient: PatientEntry): StoredVisit[] =>
    patient.cases.flatMap(({ code }) => visitsOfCase(onFile, code));
  const visits = patients.flatMap(visitsOf);
  const pictures = visits.flatMap((visit) => visit.pictures);
  return {
    patients: patients.map((patient) => personOf(patient, visitsOf(patient))),
    strings: distinct(pictures.flatMap(({ facts }) => facts?.identifying ?? [])),
    fileNames: [...new Set([...pictures.map(({ source }) => source), ...visits.map(({ folder }) => folder)])],
    lines: [],
    allowed: [...practice.settings.letterhead, ...shareCodes],
  };
}

/** What the patient book says, and what any sidecar said: a name may have changed between two visits. */
function personOf(patient: PatientEntry, visits: readonly StoredVisit[]): AuditTerms['patients'][number] {
  const said = visits.map(({ document }) => document.patient);
  const dates = [
    ...patient.cases.flatMap((one) => one.visits.map(({ date }) => date)),
    ...visits.map(({ document }) => document.visit.date),
    ...visits.flatMap(({ pictures }) => pictures.map(({ facts }) => facts?.takenAt?.slice(0, 10) ?? null)),
  ];
  return {
    chart: patient.chart,
    names: [...new Set([...patient.names, ...said.flatMap(({ names }) => names)])],
    born: patient.born ?? said.find(({ born }) => born !== null)?.born ?? null,
    visitDates: [...new Set(dates.filter((date) => date !== null))],
  };
}

function distinct(strings: readonly IdentifyingString[]): IdentifyingString[] {
  const known = new Map(strings.map((one) => [`${one.kind}\n${one.value}`, one] as const));
  return [...known.values()];
}
