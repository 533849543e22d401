import { rm } from 'node:fs/promises';
import { basename } from 'node:path';
import { kept, type Outcome } from '../core/outcome.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import type { Practice } from './practice-paths.js';
import { readPrivate, sealFor } from './protection/private-file.js';
import { recordRecipient } from './protection/protection.js';
import { SEALED_SUFFIX } from './protection/stored-picture.js';
import { writeAtomically } from './write-atomically.js';

/**
 * Writes a paper of private/records (a cover slip, a receipt). It names a patient or a recipient, so a protected
 * practice has it encrypted, under its name with a suffix; `patients open` makes it readable again.
 * @returns the path it lies under
 */
export async function writePaper(
  practice: Practice,
  path: string,
  bytes: Uint8Array,
): Promise<Outcome<string>> {
  const recipient = recordRecipient(practice);
  const sealed = await sealFor(recipient, bytes);
  if (sealed.kind !== 'kept') return sealed;
  const [place, other] = recipient === null ? [path, path + SEALED_SUFFIX] : [path + SEALED_SUFFIX, path];
  const written = await writeAtomically(place, sealed.value, { mode: PRIVATE_FILE_MODE });
  if (written.kind !== 'kept') return written;
  await rm(other, { force: true }).catch(() => undefined);
  return kept(place);
}

/** A paper's bytes, decrypted where they are encrypted; null when there is none. */
export async function readPaper(practice: Practice, path: string): Promise<Outcome<Uint8Array | null>> {
  const plain = await readPrivate(practice, path, basename(path));
  if (plain.kind !== 'kept' || plain.value !== null) return plain;
  return readPrivate(practice, path + SEALED_SUFFIX, basename(path));
}
