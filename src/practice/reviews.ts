import { failed, kept, type Outcome } from '../core/outcome.js';
import { Journal, readEntries } from './journal.js';
import { type JournalEntry, JSON_LINES } from './journal-lines.js';
import type { Practice } from './practice-paths.js';
import { openEntries, sealEntry } from './protection/sealed-entry.js';
import { isObject, isText } from './record-file.js';

/** A line of private/reviews.jsonl: a person has seen exactly these bytes. Initials do not prove who it was. */
export interface ReviewRecord {
  /** Wall clock, ISO 8601 in UTC. */
  at: string;
  case: string;
  template: string;
  /** Of the sheet as it stood; other bytes have not been seen. */
  sha256: string;
  by: string;
  /** What the person was told to look at: picture by its number within the case, and the sentence. */
  looks: { picture: number; sentence: string }[];
}

/** Every review, oldest first; a damaged line refuses the file. */
export async function readReviews(practice: Practice): Promise<Outcome<ReviewRecord[]>> {
  const lines = await readEntries(practice.paths.reviews, JSON_LINES);
  if (lines.kind !== 'kept') return lines;
  const read = await openEntries(practice, lines.value, 'reviews.jsonl');
  if (read.kind !== 'kept') return read;
  const line = read.value.findIndex((entry) => !isReview(entry));
  if (line >= 0) return failed({ code: 'ledger-damaged', file: 'reviews.jsonl', line: line + 1 });
  return kept(read.value.map(({ kind: _, ...review }) => review as unknown as ReviewRecord));
}

/** Under the lock. */
export async function appendReview(practice: Practice, review: ReviewRecord): Promise<Outcome<null>> {
  const line = await sealEntry(practice, { kind: 'reviewed', ...review });
  if (line.kind !== 'kept') return line;
  const reviews = await Journal.open(practice.paths.reviews, JSON_LINES);
  return reviews.kind === 'kept' ? reviews.value.append(line.value) : reviews;
}

const TEXTS = ['at', 'case', 'template', 'sha256', 'by'];

const isReview = (entry: JournalEntry): boolean =>
  entry.kind === 'reviewed' &&
  TEXTS.every((key) => isText(entry[key])) &&
  Array.isArray(entry['looks']) &&
  entry['looks'].every((look) => isObject(look) && isText(look['sentence']));
