import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  appendJournal,
  appendRegister,
  appendReview,
  beginProtection,
  finishProtection,
  type KeyWish,
  type Practice,
  saveFound,
  saveHeld,
  savePatients,
  saveVisit,
  storeOriginal,
  unlockWithKeyFile,
  writePaper,
} from '../../../src/practice/index.js';
import { freshFolder, freshPractice, keptValue, reopen } from '../scratch.js';

/** Stands in every record, so that a search of all bytes tells what lies in clear. */
export const NAME = 'Rowan Testcase';
export const PICTURE = Buffer.from(`a picture of ${NAME}`.repeat(9000));
export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const AT = '2026-02-11T09:00:00.000Z';
const SHA = '0'.repeat(64);

export const BOOK = {
  version: 1 as const,
  patients: [{ chart: 'A-1', names: [NAME], born: null, cases: [] }],
};

/** One of everything that private/ can hold. */
export async function fill(practice: Practice): Promise<void> {
  keptValue(await savePatients(practice, BOOK));
  const sidecar = Buffer.from(`patient: {names: [${NAME}]}\n`);
  keptValue(await saveVisit(practice, 'V1', { sidecar, pictures: { folder: NAME } }));
  keptValue(await saveHeld(practice, 'h1', { folder: NAME }));
  keptValue(await saveFound(practice, 'key', { texts: [NAME] }));
  keptValue(await appendJournal(practice, { kind: 'begun', at: AT, drop: SHA, code: 'K7QD2M', visit: 'V1' }));
  keptValue(await appendJournal(practice, { kind: 'held', at: AT, folder: NAME, reason: 'no-sidecar' }));
  const looks = [{ picture: 1, sentence: NAME }];
  const review = { at: AT, case: 'K7QD2M', template: 'referrer', sha256: SHA, by: 'AB', looks };
  keptValue(await appendReview(practice, review));
  keptValue(await appendRegister(practice, { kind: 'undone', id: NAME, at: AT }));
  keptValue(
    await writePaper(practice, join(practice.paths.records, 'ABCDEF-cover-slip.pdf'), Buffer.from(NAME)),
  );
  keptValue(await storeOriginal(practice, PICTURE, sha256(PICTURE), 'jpg'));
}

/** Protects a practice and gives it back with its key. */
export async function protect(practice: Practice, wish: KeyWish, originals = true): Promise<Practice> {
  const begun = keptValue(await beginProtection(practice, wish, originals));
  if (!begun.ok) throw new Error(begun.why);
  const { protection } = begun;
  return keptValue(await finishProtection({ ...practice, protection }, () => undefined)).practice;
}

export const keyFile = (): string => join(freshFolder(), 'practice.key');

/** A filled practice, protected by a key file: as it opens without the key, and with it. */
export async function protectedPractice(originals = true) {
  const practice = await freshPractice();
  await fill(practice);
  const key = keyFile();
  await protect(practice, { how: 'key-file', path: key }, originals);
  const locked = await reopen(practice.root);
  const unlocked = await unlockWithKeyFile(locked, key);
  if (!unlocked.ok) throw new Error(unlocked.trouble.kind);
  return { locked, open: unlocked.practice, key };
}

/** Files of private/, by relative path, whose bytes or name hold a text. */
export const filesWith = (practice: Practice, text: string): string[] =>
  readdirSync(practice.paths.private, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => path.includes(text) || readFileSync(path).includes(text))
    .map((path) => path.slice(practice.paths.private.length + 1))
    .sort();
