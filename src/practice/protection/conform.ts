import { readdir, readFile, rm } from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { failed, held, kept, type Outcome } from '../../core/outcome.js';
import { codeOf, diskReason } from '../disk-reason.js';
import { PRIVATE_FILE_MODE } from '../folders.js';
import { Journal, journalEntry } from '../journal.js';
import { CHECKED_LINES, type JournalEntry, JSON_LINES, type LineForm } from '../journal-lines.js';
import type { Practice } from '../practice-paths.js';
import { syncFolder, TEMPORARY_NAME, writeAtomically } from '../write-atomically.js';
import { isSealed, unseal } from './age.js';
import { sealFor } from './private-file.js';
import { pictureRecipient, recordRecipient } from './protection.js';
import { isSealedEntry, openEntries, sealEntry } from './sealed-entry.js';
import { SEALED_SUFFIX } from './stored-picture.js';

export type Progress = (done: number, total: number) => void;

/**
 * Makes every file of private/ lie as the practice's protection now wants it, encrypted or in clear. File by file, each
 * replaced whole and only after the new bytes were read back; so it may be cut short anywhere and run again. What is
 * right already is left alone. Under the lock, with the key.
 * @returns how many files were changed
 */
export async function conform(practice: Practice, progress: Progress): Promise<Outcome<number>> {
  if (!practice.protection?.identity) return held({ code: 'locked' });
  try {
    const steps = await stepsOf(practice);
    let changed = 0;
    for (const [at, step] of steps.entries()) {
      const done = await step();
      if (done.kind !== 'kept') return done;
      if (done.value) changed += 1;
      progress(at + 1, steps.length);
    }
    return kept(changed);
  } catch (error) {
    return failed(diskReason(error));
  }
}

/** One file; true when it had to be changed. */
type Step = () => Promise<Outcome<boolean>>;

async function stepsOf(practice: Practice): Promise<Step[]> {
  const { paths } = practice;
  const visits = (await filesUnder(paths.visits)).filter((path) =>
    /\/(visit\.yaml|pictures\.json)$/.test(path),
  );
  const records = [
    paths.patients,
    paths.erasing,
    ...visits,
    ...(await filesUnder(paths.held)),
    ...(await filesUnder(paths.cache)).filter((path) => basename(path).startsWith('found-')),
  ];
  const pictures = (
    await Promise.all([paths.originals, paths.stripped, paths.limited].map(filesUnder))
  ).flat();
  const papers = [
    ...(await filesUnder(paths.records)),
    ...[paths.journal, paths.register, paths.reviews].flatMap((path) => [
      `${path}.torn`,
      `${path}.torn${SEALED_SUFFIX}`,
    ]),
  ];
  return [
    ...records.map(
      (path): Step =>
        () =>
          conformRecord(practice, path),
    ),
    () => conformLedger(practice, paths.journal, CHECKED_LINES, journalEntry),
    () => conformLedger(practice, paths.register, JSON_LINES, sealEntry),
    () => conformLedger(practice, paths.reviews, JSON_LINES, sealEntry),
    ...papers.map(
      (path): Step =>
        () =>
          conformBeside(practice, path, recordRecipient(practice)),
    ),
    () => dropPrints(practice),
    ...pictures.map(
      (path): Step =>
        () =>
          conformBeside(practice, path, pictureRecipient(practice)),
    ),
  ];
}

async function filesUnder(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile() && !TEMPORARY_NAME.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

const absent = (error: unknown): null => {
  if (codeOf(error) === 'ENOENT') return null;
  throw error;
};

/** A record keeps its name; its first bytes say which it is. */
async function conformRecord(practice: Practice, path: string): Promise<Outcome<boolean>> {
  const bytes = await readFile(path).catch(absent);
  const recipient = recordRecipient(practice);
  if (bytes === null || isSealed(bytes) === (recipient !== null)) return kept(false);
  const turned = await turn(practice, bytes, recipient, path);
  if (turned.kind !== 'kept') return turned;
  const written = await writeAtomically(path, turned.value, { mode: PRIVATE_FILE_MODE });
  return written.kind === 'kept' ? kept(true) : written;
}

/** A picture or paper has a suffix when it is encrypted, so that nobody opens it in vain. */
async function conformBeside(
  practice: Practice,
  path: string,
  recipient: string | null,
): Promise<Outcome<boolean>> {
  if (path.endsWith(SEALED_SUFFIX) === (recipient !== null)) return kept(false);
  const bytes = await readFile(path).catch(absent);
  if (bytes === null) return kept(false);
  const turned = await turn(practice, bytes, recipient, path);
  if (turned.kind !== 'kept') return turned;
  const place = recipient === null ? path.slice(0, -SEALED_SUFFIX.length) : path + SEALED_SUFFIX;
  const written = await writeAtomically(place, turned.value, { mode: PRIVATE_FILE_MODE });
  if (written.kind !== 'kept') return written;
  await rm(path);
  await syncFolder(dirname(path));
  return kept(true);
}

/** The other form of the same bytes; an encrypted one is opened again before anything rests on it. */
async function turn(
  { protection, paths }: Practice,
  bytes: Uint8Array,
  recipient: string | null,
  path: string,
): Promise<Outcome<Uint8Array>> {
  const identity = protection?.identity as string;
  const file = relative(paths.private, path);
  if (recipient === null) return unseal(identity, bytes, file);
  const sealed = await sealFor(recipient, bytes);
  if (sealed.kind !== 'kept') return sealed;
  const back = await unseal(identity, sealed.value, file);
  if (back.kind !== 'kept' || Buffer.compare(back.value, bytes) !== 0) {
    return failed({ code: 'bug', what: 'encrypted bytes do not come back' });
  }
  return sealed;
}

/** Prints in the cache may show a face in clear; they are made again when a sheet is. */
async function dropPrints(practice: Practice): Promise<Outcome<boolean>> {
  if (pictureRecipient(practice) === null) return kept(false);
  for (const path of await filesUnder(practice.paths.cache)) if (path.endsWith('.jpg')) await rm(path);
  return kept(false);
}

async function conformLedger(
  practice: Practice,
  path: string,
  form: LineForm,
  asWritten: (practice: Practice, entry: JournalEntry) => Promise<Outcome<JournalEntry>>,
): Promise<Outcome<boolean>> {
  // Opening puts a line that a kill tore aside.
  const ledger = await Journal.open(path, form);
  if (ledger.kind !== 'kept') return ledger;
  const before = ledger.value.entries();
  const opened = await openEntries(practice, before, basename(path));
  if (opened.kind !== 'kept') return opened;
  const lines: Uint8Array[] = [];
  let changed = false;
  for (const [at, entry] of opened.value.entries()) {
    const line = before[at] as JournalEntry;
    const after = await asWritten(practice, entry);
    if (after.kind !== 'kept') return after;
    // An encrypted line that is to stay so keeps its bytes.
    const same = isSealedEntry(line) === isSealedEntry(after.value);
    changed ||= !same;
    lines.push(form.write(same ? line : after.value));
  }
  if (!changed) return kept(false);
  const written = await writeAtomically(path, Buffer.concat(lines), { mode: PRIVATE_FILE_MODE });
  return written.kind === 'kept' ? kept(true) : written;
}
