import { basename } from 'node:path';
import { kept, type Outcome } from '../core/outcome.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import { Journal, journalEntry } from './journal.js';
import { CHECKED_LINES, type JournalEntry, JSON_LINES, type LineForm } from './journal-lines.js';
import type { Practice } from './practice-paths.js';
import { openEntries, sealEntry } from './protection/sealed-entry.js';
import { writeAtomically } from './write-atomically.js';

/** What becomes of an entry: itself (unchanged), another, or null for none. */
export type Change = (entry: JournalEntry) => JournalEntry | null;

/**
 * Rewrites an append-only file, for the one thing that may take lines out of it: erasing a patient. Whole or not at all;
 * lines that do not change keep their bytes. Under the lock, with the key.
 * @returns how many lines were changed or taken out
 */
export const changeJournal = (practice: Practice, change: Change): Promise<Outcome<number>> =>
  rewrite(practice, practice.paths.journal, CHECKED_LINES, journalEntry, change);

export const changeRegister = (practice: Practice, change: Change): Promise<Outcome<number>> =>
  rewrite(practice, practice.paths.register, JSON_LINES, sealEntry, change);

export const changeReviews = (practice: Practice, change: Change): Promise<Outcome<number>> =>
  rewrite(practice, practice.paths.reviews, JSON_LINES, sealEntry, change);

async function rewrite(
  practice: Practice,
  path: string,
  form: LineForm,
  asWritten: (practice: Practice, entry: JournalEntry) => Promise<Outcome<JournalEntry>>,
  change: Change,
): Promise<Outcome<number>> {
  const ledger = await Journal.open(path, form);
  if (ledger.kind !== 'kept') return ledger;
  const before = ledger.value.entries();
  const opened = await openEntries(practice, before, basename(path));
  if (opened.kind !== 'kept') return opened;
  const lines: Uint8Array[] = [];
  let changed = 0;
  for (const [at, entry] of opened.value.entries()) {
    const after = change(entry);
    if (after !== entry) changed += 1;
    if (after === null) continue;
    const line = after === entry ? kept(before[at] as JournalEntry) : await asWritten(practice, after);
    if (line.kind !== 'kept') return line;
    lines.push(form.write(line.value));
  }
  if (changed === 0) return kept(0);
  const written = await writeAtomically(path, Buffer.concat(lines), { mode: PRIVATE_FILE_MODE });
  return written.kind === 'kept' ? kept(changed) : written;
}
