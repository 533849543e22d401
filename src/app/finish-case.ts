import { join } from 'node:path';
import { appendJournal, type Practice, readJournal, settleTimes, writeOpenly } from '../practice/index.js';
import { buildCase } from '../stages/record/index.js';
import type { CaseRecord, Finding } from '../trade/case-record.js';
import { findingsOf } from '../trade/findings/index.js';
import { jsonBytes } from './json-bytes.js';
import { caseOf, type OnFile, readOnFile, visitsOfCase } from './on-file.js';
import type { Ports } from './ports.js';
import type { ErrorReport } from './report.js';
import { orTrouble, Trouble } from './trouble.js';

/** What stands under cases/<CODE>/ after a filing. */
export interface FinishedCase {
  findings: Finding[];
  errors: ErrorReport[];
  /** Relative to the practice folder. */
  sheets: string[];
}

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

/** Writes case.json, the referrer sheet and its cover slip, and journals that this revision is finished. */
export async function finishCase(
  practice: Practice,
  ports: Ports,
  code: string,
  visitId: string,
): Promise<FinishedCase> {
  const onFile = await readOnFile(practice);
  const standing = readCase(onFile, code);
  const { record, findings } = standing;
  const folder = join(practice.paths.cases, code);
  orTrouble(await writeOpenly(join(folder, 'case.json'), jsonBytes(record)));
  // What draws sheets is heavy to load, and a visit that is on file already does not need it.
  const { makeSheet, writeCoverSlip } = await import('./sheet/make-papers.js');
  const made = await makeSheet(practice, ports, standing, { template: 'referrer' });
  if (made.kind === 'made') await writeCoverSlip(practice, ports, onFile, record, made.shareCode);
  await settleTimes(practice.paths.cases);
  const revision = onFile.visits.get(visitId)?.revision ?? 0;
  const at = ports.now().toISOString();
  orTrouble(await appendJournal(practice, { kind: 'done', at, code, visit: visitId, revision }));
  return made.kind === 'made'
    ? { findings, errors: [], sheets: [made.sheet] }
    : { findings, errors: made.errors, sheets: [] };
}

/** False while a kill has left the last revision of a visit without its case record or sheet. */
export async function isFinished(practice: Practice, visitId: string, revision: number): Promise<boolean> {
  const entries = orTrouble(await readJournal(practice));
  return entries.some(
    (entry) => entry['kind'] === 'done' && entry['visit'] === visitId && entry['revision'] === revision,
  );
}
