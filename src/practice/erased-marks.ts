import { createHmac } from 'node:crypto';
import { failed, kept, type Outcome } from '../core/outcome.js';
import type { Practice } from './practice-paths.js';
import { IN_CLEAR, isObject, isText, readRecord, writeRecord } from './record-file.js';
import { readSecret } from './secret.js';

/**
 * private/erased: one mark for each original of an erased patient, so that a folder still in the inbox is not taken in
 * again. A mark is a keyed hash of the original's SHA-256 (HMAC with the practice's secret, RFC 2104): it gives no
 * name, no picture and no date, and only this practice, with the very file in hand, can tell that it belongs. It is
 * never encrypted, since a locked practice must refuse such a folder too.
 */
interface ErasedFile {
  version: 1;
  marks: string[];
}

/** Tells whether an original, by its SHA-256 in hex, was erased. */
export type IsErased = (sha256: string) => boolean;

export async function loadErased(practice: Practice): Promise<Outcome<IsErased>> {
  const file = await read(practice);
  if (file.kind !== 'kept') return file;
  if (file.value === null) return kept(() => false);
  const marks = new Set(file.value.marks);
  const mark = await marker(practice);
  if (mark.kind !== 'kept') return mark;
  return kept((sha256) => marks.has(mark.value(sha256)));
}

/** Adds marks; one that is there already stays one. Under the lock. */
export async function markErased(practice: Practice, sha256s: readonly string[]): Promise<Outcome<null>> {
  const file = await read(practice);
  if (file.kind !== 'kept') return file;
  const mark = await marker(practice);
  if (mark.kind !== 'kept') return mark;
  // Sorted, so that the order tells nothing of which belong together.
  const marks = [...new Set([...(file.value?.marks ?? []), ...sha256s.map(mark.value)])].sort();
  const whole: ErasedFile = { version: 1, marks };
  return writeRecord(IN_CLEAR, practice.paths.erased, whole);
}

const read = (practice: Practice): Promise<Outcome<ErasedFile | null>> =>
  readRecord(IN_CLEAR, practice.paths.erased, 'erased', isErasedFile);

async function marker({ paths }: Practice): Promise<Outcome<(sha256: string) => string>> {
  const secret = await readSecret(paths);
  if (secret.kind !== 'kept') return secret;
  const { value } = secret;
  if (value === null) return failed({ code: 'ledger-damaged', file: 'secret', line: null });
  return kept((sha256) => createHmac('sha256', value).update(`erased original ${sha256}`).digest('hex'));
}

const isErasedFile = (value: unknown): value is ErasedFile =>
  isObject(value) && value['version'] === 1 && Array.isArray(value['marks']) && value['marks'].every(isText);
