import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { RandomBytes } from '../core/code.js';
import { kept, type Outcome } from '../core/outcome.js';
import { codeOf, unreadableReason } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import type { PracticePaths } from './practice-paths.js';
import { writeAtomically } from './write-atomically.js';

export const SECRET_BYTES = 32;

/** Makes the practice's secret, once. Existing ones are never replaced: what was derived from it would not match. */
export async function makeSecret(
  paths: PracticePaths,
  random: RandomBytes = randomBytes,
): Promise<Outcome<boolean>> {
  const existing = await readSecret(paths);
  if (existing.kind !== 'kept') return existing;
  if (existing.value !== null) return kept(false);
  const written = await writeAtomically(paths.secret, random(SECRET_BYTES), { mode: PRIVATE_FILE_MODE });
  return written.kind === 'kept' ? kept(true) : written;
}

/** The 32 bytes, or null when there is no secret yet. A secret of another length is damage. */
export async function readSecret(paths: PracticePaths): Promise<Outcome<Uint8Array | null>> {
  try {
    const bytes = await readFile(paths.secret);
    if (bytes.length === SECRET_BYTES) return kept(bytes);
    return { kind: 'failed', reason: { code: 'ledger-damaged', file: 'secret', line: null } };
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? kept(null) : { kind: 'failed', reason: unreadableReason(error) };
  }
}
