import { readFile } from 'node:fs/promises';
import { failed, held, kept, type Outcome } from '../../core/outcome.js';
import { codeOf, unreadableReason } from '../disk-reason.js';
import { PRIVATE_FILE_MODE } from '../folders.js';
import { isObject, isText } from '../json-values.js';
import type { PracticePaths } from '../practice-paths.js';
import { writeAtomically } from '../write-atomically.js';

/** How a practice's private records are encrypted: private/protection.json. Holds no secret. */
export interface ProtectionFile {
  version: 1;
  /** Public half of the practice's identity, "age1...": whoever stores something needs only this. */
  recipient: string;
  how: 'passphrase' | 'key-file';
  /** Whether originals, stripped copies and pictures of limited audience are encrypted too. */
  originals: boolean;
  /** While records are being encrypted or decrypted both kinds lie side by side, and both are read. */
  state: 'on' | 'protecting' | 'unprotecting';
  /** SHA-256 of private/key.age, so that damage to it is not taken for a wrong passphrase; null with a key file. */
  keySha256: string | null;
}

/** As an opened practice knows it. */
export interface Protection extends ProtectionFile {
  /** The secret half, "AGE-SECRET-KEY-1..."; null while nobody has given the key. */
  identity: string | null;
}

const RECIPIENT = /^age1[02-9ac-hj-np-z]{58}$/;

/** Null when the practice is not protected. */
export async function loadProtection(paths: PracticePaths): Promise<Outcome<Protection | null>> {
  try {
    const value: unknown = JSON.parse(await readFile(paths.protection, 'utf8'));
    if (isProtectionFile(value)) return kept({ ...value, identity: null });
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return kept(null);
    if (codeOf(error) !== null) return failed(unreadableReason(error));
  }
  return failed({ code: 'ledger-damaged', file: 'protection.json', line: null });
}

export const saveProtection = (
  paths: PracticePaths,
  { identity: _, ...file }: Protection,
): Promise<Outcome<null>> =>
  writeAtomically(paths.protection, Buffer.from(`${JSON.stringify(file, null, 1)}\n`), {
    mode: PRIVATE_FILE_MODE,
  });

const isProtectionFile = (value: unknown): value is ProtectionFile =>
  isObject(value) &&
  value['version'] === 1 &&
  isText(value['recipient']) &&
  RECIPIENT.test(value['recipient']) &&
  (value['how'] === 'passphrase' || value['how'] === 'key-file') &&
  typeof value['originals'] === 'boolean' &&
  (value['state'] === 'on' || value['state'] === 'protecting' || value['state'] === 'unprotecting') &&
  (value['keySha256'] === null || isText(value['keySha256']));

/** The part of a practice that this room asks for. */
export interface Protected {
  protection?: Protection | null;
}

/** Protected, and nobody has given the key. */
export const isLocked = ({ protection }: Protected): boolean => !!protection && protection.identity === null;

/** Held as `locked` unless the practice's records can be read. */
export const ifUnlocked = (practice: Protected): Outcome<null> =>
  isLocked(practice) ? held({ code: 'locked' }) : kept(null);

/** The recipient that what is written now is encrypted to; null writes in clear. */
export const recordRecipient = ({ protection }: Protected): string | null =>
  protection && protection.state !== 'unprotecting' ? protection.recipient : null;

/** The same for pictures. */
export const pictureRecipient = (practice: Protected): string | null =>
  practice.protection?.originals ? recordRecipient(practice) : null;

/** Whether pictures that may name or show somebody lie encrypted. */
export const keepsPicturesSealed = (practice: Protected): boolean => pictureRecipient(practice) !== null;

/** Whether the disk still says of the protection what it said when the practice was opened. Asked under the lock. */
export async function isProtectedAsOpened(
  practice: Protected & { paths: PracticePaths },
): Promise<Outcome<boolean>> {
  const now = await loadProtection(practice.paths);
  if (now.kind !== 'kept') return now;
  const said = (one: Protection | null | undefined): string =>
    one ? JSON.stringify([one.recipient, one.originals, one.state]) : '';
  return kept(said(now.value) === said(practice.protection));
}
