import { readFile } from 'node:fs/promises';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { codeOf, unreadableReason } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import { writeAtomically } from './write-atomically.js';

/**
 * Reads a private JSON file. Absent is `null`; damaged or of another shape is an outcome that names the file, so
 * that it is never taken for empty and written over.
 * @param file  its name under private/, for the sentence
 * @param fits  whether the parsed value has the expected shape
 */
export async function readRecord<T>(
  path: string,
  file: string,
  fits: (value: unknown) => value is T,
): Promise<Outcome<T | null>> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? kept(null) : failed(unreadableReason(error));
  }
  const damaged = failed({ code: 'ledger-damaged', file, line: null });
  try {
    const value: unknown = JSON.parse(text);
    return fits(value) ? kept(value) : damaged;
  } catch {
    return damaged;
  }
}

export const writeRecord = (path: string, value: unknown): Promise<Outcome<null>> =>
  writeAtomically(path, Buffer.from(`${JSON.stringify(value, null, 1)}\n`), { mode: PRIVATE_FILE_MODE });

export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

export const isText = (value: unknown): value is string => typeof value === 'string';
