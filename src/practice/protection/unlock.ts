import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { codeOf, troubleWords } from '../disk-reason.js';
import type { Practice } from '../practice-paths.js';
import { recipientOfIdentity, unwrapIdentity } from './age.js';

/** Why a key did not open the practice. Nothing is ever changed by trying. */
export type UnlockTrouble =
  | { kind: 'key-file-absent' }
  | { kind: 'key-file-unreadable'; what: string }
  | { kind: 'no-key-in-file' }
  | { kind: 'other-key' }
  | { kind: 'wrong-passphrase' }
  /** private/key.age is not there, or is not what was written. */
  | { kind: 'key-damaged'; absent: boolean };

export type Unlocked = { ok: true; practice: Practice } | { ok: false; trouble: UnlockTrouble };

/** A key file is a page of text; anything longer is another file under this name. */
const LONGEST_KEY_FILE_BYTES = 100_000;

/** The first identity of a key file, as age's own tools write them: comments with "#", one key a line. */
export async function readKeyFile(path: string): Promise<{ identity: string } | { trouble: UnlockTrouble }> {
  try {
    const { size } = await stat(path);
    const text = size > LONGEST_KEY_FILE_BYTES ? '' : await readFile(path, 'utf8');
    const lines = text.split('\n').map((line) => line.trim());
    const identity = lines.find((line) => line.startsWith('AGE-SECRET-KEY-1'));
    return identity ? { identity } : { trouble: { kind: 'no-key-in-file' } };
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return { trouble: { kind: 'key-file-absent' } };
    return { trouble: { kind: 'key-file-unreadable', what: troubleWords(error) } };
  }
}

/** Unlocks with a key file, wherever it lies. A practice that is not protected needs none and is given back. */
export async function unlockWithKeyFile(practice: Practice, path: string): Promise<Unlocked> {
  if (!practice.protection) return { ok: true, practice };
  const read = await readKeyFile(path);
  return 'trouble' in read ? { ok: false, trouble: read.trouble } : withIdentity(practice, read.identity);
}

/** Unlocks private/key.age with a passphrase. */
export async function unlockWithPassphrase(practice: Practice, passphrase: string): Promise<Unlocked> {
  if (!practice.protection) return { ok: true, practice };
  const wrapped = await readFile(practice.paths.key).catch((error: unknown) => {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  });
  if (wrapped === null) return { ok: false, trouble: { kind: 'key-damaged', absent: true } };
  if (sha256Of(wrapped) !== practice.protection.keySha256) {
    return { ok: false, trouble: { kind: 'key-damaged', absent: false } };
  }
  const identity = await unwrapIdentity(wrapped, passphrase);
  return identity === null
    ? { ok: false, trouble: { kind: 'wrong-passphrase' } }
    : withIdentity(practice, identity);
}

/** The practice with its key, if the key is its own. */
export async function withIdentity(practice: Practice, identity: string): Promise<Unlocked> {
  const { protection } = practice;
  if (!protection) return { ok: true, practice };
  const fits = (await recipientOfIdentity(identity)) === protection.recipient;
  return fits
    ? { ok: true, practice: { ...practice, protection: { ...protection, identity } } }
    : { ok: false, trouble: { kind: 'other-key' } };
}

/** A practice opened anew keeps the key that was given for it before. */
export function keepKey(anew: Practice, before: Practice): Practice {
  const { protection } = anew;
  const known = before.protection;
  if (!protection || !known?.identity || known.recipient !== protection.recipient) return anew;
  return { ...anew, protection: { ...protection, identity: known.identity } };
}

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
