import { type FileHandle, open, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { codeOf, diskReason, unreadableReason } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import {
  CHECKED_LINES,
  type JournalEntry,
  type JournalReading,
  type LineForm,
  readJournalLines,
} from './journal-lines.js';
import type { Practice } from './practice-paths.js';
import { isSealedEntry, openEntries, sealEntry } from './protection/sealed-entry.js';
import { syncFolder, writeAll } from './write-atomically.js';

/**
 * private/journal: what was done, in order, one fsynced line each. Append-only; a line torn by a kill is cut off
 * when the journal is next opened for writing, its bytes kept beside it in journal.torn; a damaged line anywhere else
 * refuses the journal, since what followed could not be trusted. Open it, and append, only under the lock.
 */
export class Journal {
  private constructor(
    private readonly path: string,
    private readonly known: JournalEntry[],
    private sizeBytes: number,
    private readonly form: LineForm,
  ) {}

  static async open(path: string, form: LineForm = CHECKED_LINES): Promise<Outcome<Journal>> {
    const bytes = await readBytes(path);
    if (bytes.kind !== 'kept') return bytes;
    const reading = readJournalLines(bytes.value, form);
    if (reading.kind === 'damaged') return damagedAt(path, reading.line);
    try {
      const sizeBytes = await mendEnd(path, bytes.value, reading);
      return kept(new Journal(path, reading.entries, sizeBytes, form));
    } catch (error) {
      return failed(diskReason(error));
    }
  }

  entries(): readonly JournalEntry[] {
    return this.known;
  }

  /** Kept once the line lies on the disk. On trouble the journal is as it was before. */
  async append(entry: JournalEntry): Promise<Outcome<null>> {
    const line = this.form.write(entry);
    try {
      await appendBytes(this.path, line, this.sizeBytes);
    } catch (error) {
      return failed(diskReason(error));
    }
    this.sizeBytes += line.length;
    this.known.push(entry);
    return kept(null);
  }
}

/** Keys whose values name nobody: an entry of the journal with any other is encrypted in a protected practice. */
const OPEN_KEYS: ReadonlySet<string> = new Set([
  'kind',
  'at',
  'drop',
  'code',
  'visit',
  'revision',
  'reason',
  'receipt',
]);

/** Appends one entry to the practice's journal, which is read and checked first. Under the lock; needs no key. */
export async function appendJournal(practice: Practice, entry: JournalEntry): Promise<Outcome<null>> {
  const line = await journalEntry(practice, entry);
  if (line.kind !== 'kept') return line;
  const journal = await Journal.open(practice.paths.journal);
  return journal.kind === 'kept' ? journal.value.append(line.value) : journal;
}

/** An entry as the journal holds it: what may name somebody is encrypted when the practice is protected. */
export const journalEntry = async (
  practice: Practice,
  entry: JournalEntry,
): Promise<Outcome<JournalEntry>> =>
  Object.keys(entry).every((key) => OPEN_KEYS.has(key)) ? kept(entry) : sealEntry(practice, entry);

/**
 * The good entries, oldest first, without those that are encrypted since they may name somebody; so it needs no key.
 * Writes nothing and needs no lock; a line still being written is left out.
 */
export async function readJournal(practice: Practice): Promise<Outcome<JournalEntry[]>> {
  const read = await readEntries(practice.paths.journal, CHECKED_LINES);
  return read.kind === 'kept' ? kept(read.value.filter((entry) => !isSealedEntry(entry))) : read;
}

/** All entries, the encrypted ones opened. */
export async function readWholeJournal(practice: Practice): Promise<Outcome<JournalEntry[]>> {
  const read = await readEntries(practice.paths.journal, CHECKED_LINES);
  return read.kind === 'kept' ? openEntries(practice, read.value, 'journal') : read;
}

/** The same of any file of such lines. */
export async function readEntries(path: string, form: LineForm): Promise<Outcome<JournalEntry[]>> {
  const bytes = await readBytes(path);
  if (bytes.kind !== 'kept') return bytes;
  const reading = readJournalLines(bytes.value, form);
  return reading.kind === 'damaged' ? damagedAt(path, reading.line) : kept(reading.entries);
}

const damagedAt = (path: string, line: number): Outcome<never> =>
  failed({ code: 'ledger-damaged', file: basename(path), line });

async function readBytes(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return kept(await readFile(path));
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? kept(new Uint8Array()) : failed(unreadableReason(error));
  }
}

/** Ends the journal with a whole line. @returns its size in bytes from then on */
async function mendEnd(
  path: string,
  bytes: Uint8Array,
  reading: Exclude<JournalReading, { kind: 'damaged' }>,
): Promise<number> {
  if (reading.kind === 'sound') {
    if (!reading.lacksEnd) return bytes.length;
    await appendBytes(path, Buffer.from('\n'), bytes.length);
    return bytes.length + 1;
  }
  await appendBytes(
    `${path}.torn`,
    Buffer.concat([bytes.subarray(reading.goodBytes), Buffer.from('\n')]),
    null,
  );
  const handle = await open(path, 'r+');
  try {
    await handle.truncate(reading.goodBytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
  return reading.goodBytes;
}

/** @param expectedBytes the size the file must have, so that nobody else's line is built upon unseen; null: any */
async function appendBytes(path: string, bytes: Uint8Array, expectedBytes: number | null): Promise<void> {
  const handle = await open(path, 'a', PRIVATE_FILE_MODE);
  try {
    const { size } = await handle.stat();
    if (expectedBytes !== null && size !== expectedBytes) throw changedByAnother();
    await writeOrTakeBack(handle, bytes, size);
    if (size === 0) await syncFolder(dirname(path));
  } finally {
    await handle.close();
  }
}

async function writeOrTakeBack(handle: FileHandle, bytes: Uint8Array, sizeBefore: number): Promise<void> {
  try {
    await writeAll(handle, bytes);
    await handle.sync();
  } catch (error) {
    await handle.truncate(sizeBefore).catch(() => undefined);
    throw error;
  }
}

const changedByAnother = (): Error => Object.assign(new Error('the journal grew'), { code: 'EBUSY' });
