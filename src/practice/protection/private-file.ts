import { open, readFile } from 'node:fs/promises';
import { failed, held, kept, type Outcome } from '../../core/outcome.js';
import { codeOf, unreadableReason } from '../disk-reason.js';
import { PRIVATE_FILE_MODE } from '../folders.js';
import { writeAtomically } from '../write-atomically.js';
import { FIRST_LINE_BYTES, isSealed, seal, unseal } from './age.js';
import { isLocked, type Protected, recordRecipient } from './protection.js';

/**
 * Bytes of a private record, decrypted where they are encrypted; null when there is no such file. A protected practice
 * without its key gives `locked`, also for a record that happens to lie in clear, so that the answer never depends on
 * how far an encryption has come.
 * @param file its name under private/, for the sentence
 */
export async function readPrivate(
  practice: Protected,
  path: string,
  file: string,
): Promise<Outcome<Uint8Array | null>> {
  if (isLocked(practice)) return held({ code: 'locked' });
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? kept(null) : failed(unreadableReason(error));
  }
  return isSealed(bytes) ? unsealRecord(practice, bytes, file) : kept(bytes);
}

/** A record that is encrypted though the practice does not say so: its protection.json is lost. */
async function unsealRecord(
  { protection }: Protected,
  bytes: Uint8Array,
  file: string,
): Promise<Outcome<Uint8Array>> {
  if (!protection?.identity) return failed({ code: 'ledger-damaged', file: 'protection.json', line: null });
  return unseal(protection.identity, bytes, file);
}

/** Writes a private record for the owner alone, encrypted where the practice is protected; needs no key. */
export async function writePrivate(
  practice: Protected,
  path: string,
  bytes: Uint8Array,
): Promise<Outcome<null>> {
  const sealed = await sealRecord(practice, bytes);
  return sealed.kind === 'kept' ? writeAtomically(path, sealed.value, { mode: PRIVATE_FILE_MODE }) : sealed;
}

/** Bytes as a record is to lie on the disk. */
export const sealRecord = (practice: Protected, bytes: Uint8Array): Promise<Outcome<Uint8Array>> =>
  sealFor(recordRecipient(practice), bytes);

/** @param recipient null leaves the bytes in clear */
export async function sealFor(recipient: string | null, bytes: Uint8Array): Promise<Outcome<Uint8Array>> {
  if (recipient === null) return kept(bytes);
  try {
    return kept(await seal(recipient, bytes));
  } catch {
    // Only a recipient that is none makes sealing fail; its checksum says so.
    return failed({ code: 'ledger-damaged', file: 'protection.json', line: null });
  }
}

/** Whether a file is encrypted, by its first bytes; an absent one is not. */
export async function isSealedFile(path: string): Promise<boolean> {
  const handle = await open(path, 'r').catch(() => null);
  if (!handle) return false;
  try {
    const head = Buffer.alloc(FIRST_LINE_BYTES);
    await handle.read(head, 0, head.length, 0);
    return isSealed(head);
  } finally {
    await handle.close();
  }
}

/** Encrypted bytes opened; null for bytes that are not encrypted. */
export async function unsealBytes(
  practice: Protected,
  bytes: Uint8Array,
  file: string,
): Promise<Outcome<Uint8Array | null>> {
  if (!isSealed(bytes)) return kept(null);
  return isLocked(practice) ? held({ code: 'locked' }) : unsealRecord(practice, bytes, file);
}
