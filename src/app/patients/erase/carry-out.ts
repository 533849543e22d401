import { join } from 'node:path';
import {
  appendJournal,
  changeJournal,
  changeRegister,
  changeReviews,
  eraseFiles,
  isObject,
  loadCodes,
  loadPatients,
  markErased,
  type Practice,
  readRecord,
  removeFile,
  saveCodes,
  savePatients,
  writePaper,
  writeRecord,
} from '../../../practice/index.js';
import type { Ports } from '../../ports.js';
import { orTrouble } from '../../trouble.js';
import { type ErasePlan, THE_PATIENT } from './plan.js';
import { receiptText } from './receipt.js';

/** What an erasure that was begun still has to remove; null when none is under way. */
export async function unfinishedErasure(practice: Practice): Promise<ErasePlan | null> {
  const isPlan = (value: unknown): value is ErasePlan =>
    isObject(value) && value['version'] === 1 && Array.isArray(value['originals']);
  return orTrouble(await readRecord(practice, practice.paths.erasing, 'erasing', isPlan));
}

/** Writes down what is to be removed, so that a kill only interrupts it, and says in the journal that it has begun. */
export async function beginErasure(practice: Practice, plan: ErasePlan): Promise<void> {
  orTrouble(await writeRecord(practice, practice.paths.erasing, plan));
  orTrouble(await appendJournal(practice, { kind: 'erasing', at: plan.at, receipt: plan.receipt }));
}

/**
 * Removes all that the plan names and writes the receipt. Each step may be repeated, and the plan itself goes last: run
 * again after a kill it ends in the same state. Marks come first, so that no folder is taken in again meanwhile. Under
 * the lock, with the key.
 * @returns where the receipt lies
 */
export async function finishErasure(
  practice: Practice,
  ports: Pick<Ports, 'now'>,
  plan: ErasePlan,
): Promise<string> {
  orTrouble(
    await markErased(
      practice,
      plan.originals.map(({ sha256 }) => sha256),
    ),
  );
  await takeFromBooks(practice, plan);
  orTrouble(await eraseFiles(practice, plan));
  await takeFromLedgers(practice, plan);
  const path = join(practice.paths.records, `erased-${plan.receipt}.txt`);
  const paper = orTrouble(await writePaper(practice, path, Buffer.from(receiptText(plan))));
  const done = { kind: 'erased', at: ports.now().toISOString(), receipt: plan.receipt };
  orTrouble(await appendJournal(practice, done));
  orTrouble(await removeFile(practice.paths.erasing));
  return paper;
}

async function takeFromBooks(practice: Practice, { codes }: ErasePlan): Promise<void> {
  const book = orTrouble(await loadPatients(practice));
  const patients = book.patients.filter(({ cases }) => !cases.some(({ code }) => codes.includes(code)));
  if (patients.length < book.patients.length) orTrouble(await savePatients(practice, { ...book, patients }));
  const { cases, ...rest } = orTrouble(await loadCodes(practice));
  const left = Object.entries(cases).filter(([code]) => !codes.includes(code));
  orTrouble(await saveCodes(practice, { ...rest, cases: Object.fromEntries(left) }));
}

/** Of the register every line stays: it must still be known what went out, and to whom. */
async function takeFromLedgers(practice: Practice, plan: ErasePlan): Promise<void> {
  const { codes, visits, folders, nameless } = plan;
  const isOneOf = (list: readonly string[], value: unknown): boolean =>
    typeof value === 'string' && list.includes(value.normalize('NFC'));
  orTrouble(
    await changeJournal(practice, (entry) =>
      isOneOf(codes, entry['code']) || isOneOf(visits, entry['visit']) || isOneOf(folders, entry['folder'])
        ? null
        : entry,
    ),
  );
  orTrouble(await changeReviews(practice, (entry) => (isOneOf(codes, entry['case']) ? null : entry)));
  orTrouble(
    await changeRegister(practice, (entry) =>
      isOneOf(nameless, entry['id']) && 'to' in entry && entry['to'] !== THE_PATIENT
        ? { ...entry, to: THE_PATIENT }
        : entry,
    ),
  );
}
