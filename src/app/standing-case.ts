import { buildTerms, findIdentifiers } from '../core/terms.js';
import type { PatientEntry } from '../practice/index.js';
import { buildCase, leaveOutTexts } from '../stages/record/index.js';
import type { CaseRecord, Finding } from '../trade/case-record.js';
import { type ConsentOverVisits, consentOver } from '../trade/consent.js';
import { findingsOf } from '../trade/findings/index.js';
import { caseOf, type OnFile, type StoredVisit, visitsOfCase } from './on-file.js';
import { Trouble } from './trouble.js';

/** A case as what is on file makes it. */
export interface StandingCase {
  record: CaseRecord;
  /** The record as one audience may see it: with the pictures that a person limited to it. */
  recordFor(audience: string): CaseRecord;
  findings: Finding[];
  /** What the patient's statements come to over all visits of the case. */
  consent: ConsentOverVisits;
  /** SHA-256 of each display picture, by its number; private. */
  displays: ReadonlyMap<number, string>;
}

/** Makes the case record anew from the visits on file, with its findings; writes nothing. */
export function readCase(onFile: OnFile, code: string): StandingCase {
  const owner = caseOf(onFile, code);
  const visits = visitsOfCase(onFile, code);
  if (!owner || visits.length === 0) throw new Trouble({ code: 'bug', what: 'a case without visits' });
  const identifies = identifierSearch(owner.patient, visits);
  const recordWith = (audience: string | null) =>
    leaveOutTexts(buildCase(code, owner.tooth, visits, audience), identifies);
  const { record, leftOut } = recordWith(null);
  const answered = visits.flatMap((visit) => visit.document.answers.map((answer) => answer.code));
  const displays = visits.flatMap((visit) =>
    visit.pictures.flatMap(({ number, shown }) => (number && shown ? [[number, shown.sha256] as const] : [])),
  );
  const findings = findingsOf(record, { patientKnown: owner.patient.chart !== null, answered });
  return {
    record,
    recordFor: (audience) => recordWith(audience).record,
    findings: leftOut > 0 ? [...findings, TEXT_LEFT_OUT] : findings,
    consent: consentOver(visits.map(({ document }) => document)),
    displays: new Map(displays),
  };
}

/** Any name, number or day on file of this patient, in any visit. */
function identifierSearch(patient: PatientEntry, visits: readonly StoredVisit[]): (text: string) => boolean {
  const days = new Set(visits.map((visit) => visit.document.visit.date));
  const terms = [...days].map((day) => buildTerms(patient, day));
  return (text) => terms.some((one) => findIdentifiers(text, one).length > 0);
}

const TEXT_LEFT_OUT: Finding = {
  code: 'text-left-out',
  level: 'check',
  sentence:
    "A text of an earlier visit holds the patient's name, number or a date that another visit brought, so it is left out. Reword it in that visit's sidecar and take it in again.",
  source: '45 CFR 164.514(b)(2)(i)',
};
