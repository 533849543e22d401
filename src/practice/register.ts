import { failed, kept, type Outcome } from '../core/outcome.js';
import { Journal, readEntries } from './journal.js';
import { type JournalEntry, JSON_LINES } from './journal-lines.js';
import type { Practice } from './practice-paths.js';
import { openEntries, sealEntry } from './protection/sealed-entry.js';
import { isObject, isText } from './record-file.js';

/** A file as it went to the outbox. */
export interface SharedFile {
  /** Name within outbox/<share code>/. */
  name: string;
  sha256: string;
  bytes: number;
}

/** One release of a sheet to one recipient. Private: it says to whom. */
export interface ShareRecord {
  /** Random; joins the lines that speak of one release. */
  id: string;
  /** Wall clock when it was begun, ISO 8601 in UTC. */
  at: string;
  what: 'sheet' | 'sheet and pictures';
  case: string;
  shareCode: string;
  template: string;
  audience: string;
  to: string;
  /** Initials of who reviewed and answers for it. */
  by: string;
  basis: 'consent' | 'treatment';
  /** Of this case's sheet by this template; grows when the bytes change. */
  version: number;
  replaces: number | null;
  /** Of the sheet. */
  sha256: string;
  files: SharedFile[];
  /** What the audit made of these files; `possible` counts places that it was not sure of. */
  audit: { clean: true; possible: number };
}

/**
 * A line of private/register.jsonl. `begun` is written before the first file is copied, so that no file of the outbox
 * is ever unknown here; `shared` once all lie there; `undone` when a kill came between and they were taken away again.
 */
export type RegisterEntry =
  | ({ kind: 'begun' } & ShareRecord)
  | ({ kind: 'shared' } & ShareRecord)
  | { kind: 'undone'; id: string; at: string };

/** Every line, oldest first; a damaged one refuses the register. */
export async function readRegister(practice: Practice): Promise<Outcome<RegisterEntry[]>> {
  const lines = await readEntries(practice.paths.register, JSON_LINES);
  if (lines.kind !== 'kept') return lines;
  const read = await openEntries(practice, lines.value, 'register.jsonl');
  if (read.kind !== 'kept') return read;
  const line = read.value.findIndex((entry) => !isRegisterEntry(entry));
  if (line >= 0) return failed({ code: 'ledger-damaged', file: 'register.jsonl', line: line + 1 });
  return kept(read.value as unknown as RegisterEntry[]);
}

/** Under the lock. */
export async function appendRegister(practice: Practice, entry: RegisterEntry): Promise<Outcome<null>> {
  const line = await sealEntry(practice, { ...entry });
  if (line.kind !== 'kept') return line;
  const register = await Journal.open(practice.paths.register, JSON_LINES);
  return register.kind === 'kept' ? register.value.append(line.value) : register;
}

/** What was shared, oldest first, and what a kill left between its beginning and its end. */
export function sharesIn(entries: readonly RegisterEntry[]): {
  shared: ShareRecord[];
  unfinished: ShareRecord[];
} {
  const ended = new Set(entries.flatMap(({ kind, id }) => (kind === 'begun' ? [] : [id])));
  return {
    shared: entries.flatMap((entry) => (entry.kind === 'shared' ? [withoutKind(entry)] : [])),
    unfinished: entries.flatMap((entry) =>
      entry.kind === 'begun' && !ended.has(entry.id) ? [withoutKind(entry)] : [],
    ),
  };
}

function withoutKind({ kind: _, ...record }: { kind: string } & ShareRecord): ShareRecord {
  return record;
}

const TEXTS = [
  'id',
  'at',
  'what',
  'case',
  'shareCode',
  'template',
  'audience',
  'to',
  'by',
  'basis',
  'sha256',
];

function isRegisterEntry(entry: JournalEntry): boolean {
  if (entry.kind === 'undone') return isText(entry['id']);
  if (entry.kind !== 'begun' && entry.kind !== 'shared') return false;
  const { version, files } = entry;
  const hasTexts = TEXTS.every((key) => isText(entry[key]));
  return hasTexts && typeof version === 'number' && Array.isArray(files) && files.every(isSharedFile);
}

const isSharedFile = (value: unknown): boolean =>
  isObject(value) && isText(value['name']) && isText(value['sha256']);
