import { buildCase } from '../stages/record/index.js';
import type { CaseRecord, Finding } from '../trade/case-record.js';
import { findingsOf } from '../trade/findings/index.js';
import { caseOf, type OnFile, visitsOfCase } from './on-file.js';
import { Trouble } from './trouble.js';

/** A case as what is on file makes it. */
export interface StandingCase {
  record: CaseRecord;
  findings: Finding[];
  /** SHA-256 of each display picture, by its number; private. */
  displays: ReadonlyMap<number, string>;
}

/** Makes the case record anew from the visits on file, with its findings; writes nothing. */
export function readCase(onFile: OnFile, code: string): StandingCase {
  const owner = caseOf(onFile, code);
  const visits = visitsOfCase(onFile, code);
  if (!owner || visits.length === 0) throw new Trouble({ code: 'bug', what: 'a case without visits' });
  const record = buildCase(code, owner.tooth, visits);
  const answered = visits.flatMap((visit) => visit.document.answers.map((answer) => answer.code));
  const displays = visits.flatMap((visit) =>
    visit.pictures.flatMap(({ number, shown }) => (number && shown ? [[number, shown.sha256] as const] : [])),
  );
  const findings = findingsOf(record, { patientKnown: owner.patient.chart !== null, answered });
  return { record, findings, displays: new Map(displays) };
}
