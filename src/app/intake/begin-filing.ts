import { createHash } from 'node:crypto';
import { drawCode } from '../../core/code.js';
import { appendJournal, drawFreeCode, loadCodes, type Practice, readJournal } from '../../practice/index.js';
import { caseCodes, type OnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import type { ReadyVisit } from './ready-visit.js';

/** The code and visit id of this drop: those on file, those an interrupted try was given, or new ones. */
export async function beginFiling(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  ready: ReadyVisit,
): Promise<{ code: string; id: string }> {
  const { belonging } = ready;
  if (belonging.code && belonging.visit) return { code: belonging.code, id: belonging.visit.id };
  const drop = digestOf(ready);
  const begun = orTrouble(await readJournal(practice)).findLast(
    (entry) => entry['kind'] === 'begun' && entry['drop'] === drop && !isFiled(onFile, entry['visit']),
  );
  if (begun && (belonging.code === null || belonging.code === begun['code'])) {
    return { code: begun['code'] as string, id: begun['visit'] as string };
  }
  // Derived from nothing, so a collision is only luck, but luck that would join two patients, or a case and a share.
  const codes = orTrouble(await loadCodes(practice));
  const code = belonging.code ?? drawFreeCode(codes, ports.random, caseCodes(onFile));
  const id = drawCode(ports.random, 10);
  orTrouble(
    await appendJournal(practice, { kind: 'begun', at: ports.now().toISOString(), drop, code, visit: id }),
  );
  return { code, id };
}

/** A visit on file is nobody's interrupted try: two strangers without number, name or picture look the same. */
const isFiled = ({ book }: OnFile, id: unknown): boolean =>
  book.patients.some((patient) => patient.cases.some((one) => one.visits.some((visit) => visit.id === id)));

/** Names a drop by what it holds: its pictures, its tooth and its patient's number. Private. */
function digestOf({ fates, document }: ReadyVisit): string {
  const pictures = fates.map((fate) => fate.candidate.file.sha256 ?? '').sort();
  const key = JSON.stringify([pictures, document.tooth, document.patient, document.visit.date]);
  return createHash('sha256').update(key).digest('hex');
}
