import { failed, kept, type Outcome } from '../core/outcome.js';
import { readPrivate, writePrivate } from './protection/private-file.js';
import type { Protected } from './protection/protection.js';

export { isObject, isText } from './json-values.js';

/** For records that name nobody and are read without the key. */
export const IN_CLEAR: Protected = {};

/**
 * Reads a private JSON file, decrypted where the practice is protected. Absent is `null`; damaged or of another shape
 * is an outcome that names the file, so that it is never taken for empty and written over.
 * @param file  its name under private/, for the sentence
 * @param fits  whether the parsed value has the expected shape
 */
export async function readRecord<T>(
  practice: Protected,
  path: string,
  file: string,
  fits: (value: unknown) => value is T,
): Promise<Outcome<T | null>> {
  const read = await readPrivate(practice, path, file);
  if (read.kind !== 'kept') return read;
  if (read.value === null) return kept(null);
  const damaged = failed({ code: 'ledger-damaged', file, line: null });
  try {
    const value: unknown = JSON.parse(Buffer.from(read.value).toString('utf8'));
    return fits(value) ? kept(value) : damaged;
  } catch {
    return damaged;
  }
}

export const writeRecord = (practice: Protected, path: string, value: unknown): Promise<Outcome<null>> =>
  writePrivate(practice, path, Buffer.from(`${JSON.stringify(value, null, 1)}\n`));
