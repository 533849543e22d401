import { resolve } from 'node:path';
import {
  keepKey,
  type Practice,
  type UnlockTrouble,
  unlockWithKeyFile,
  unlockWithPassphrase,
} from '../practice/index.js';
import { readPassphraseFile } from './read-passphrase.js';

/** Where the key of a protected practice may come from. Asked in this order; the first that is given decides. */
export interface KeySource {
  /** A key file, named by the person or the environment; else the one practice.yaml names is tried. */
  keyFile?: string | undefined;
  /** A file whose first line is the passphrase. */
  passphraseFile?: string | undefined;
  /** Asks the person at the terminal; null when they give none. Absent where there is no terminal: nothing prompts. */
  ask?: ((again: boolean) => Promise<string | null>) | undefined;
}

export interface UnlockedSession {
  /** With its key, or locked. */
  practice: Practice;
  /** What went wrong with a key that was given, for the person; the practice is then still locked. */
  sentence: string | null;
}

/** As practice.yaml names it; relative to the practice. */
const keyFileOf = ({ root, settings }: Practice): string | null =>
  settings.keyFile === null ? null : resolve(root, settings.keyFile);

const TRIES = 3;

/** Gives a protected practice its key, if somebody has it. Changes nothing on the disk. */
export async function unlock(practice: Practice, source: KeySource): Promise<UnlockedSession> {
  const { protection } = practice;
  if (!protection || protection.identity !== null) return { practice, sentence: null };
  const keyFile = source.keyFile ?? (protection.how === 'key-file' ? keyFileOf(practice) : null);
  if (keyFile) return settled(practice, await unlockWithKeyFile(practice, keyFile));
  if (protection.how === 'key-file') return { practice, sentence: null };
  if (source.passphraseFile) {
    const passphrase = await readPassphraseFile(source.passphraseFile);
    if (passphrase === null) return { practice, sentence: NO_PASSPHRASE_FILE };
    return settled(practice, await unlockWithPassphrase(practice, passphrase));
  }
  return source.ask ? askFor(practice, source.ask) : { practice, sentence: null };
}

async function askFor(practice: Practice, ask: NonNullable<KeySource['ask']>): Promise<UnlockedSession> {
  let last: UnlockedSession = { practice, sentence: null };
  for (let tries = 0; tries < TRIES; tries += 1) {
    const passphrase = await ask(tries > 0);
    if (!passphrase) return { practice, sentence: null };
    const tried = await unlockWithPassphrase(practice, passphrase);
    last = settled(practice, tried);
    if (tried.ok || tried.trouble.kind !== 'wrong-passphrase') return last;
  }
  return last;
}

const settled = (
  practice: Practice,
  tried: Awaited<ReturnType<typeof unlockWithKeyFile>>,
): UnlockedSession =>
  tried.ok
    ? { practice: tried.practice, sentence: null }
    : { practice, sentence: troubleSentence(tried.trouble) };

const NO_PASSPHRASE_FILE =
  'The file that SCOPELEAF_PASSPHRASE_FILE names cannot be read or is empty, so the private records stay locked. Check its path.';

/** What is wrong with a key, then what to do. */
export function troubleSentence(trouble: UnlockTrouble): string {
  switch (trouble.kind) {
    case 'key-file-absent':
      return 'The key file is not there, so the private records stay locked. Connect the disk or stick that it lies on, or check its path.';
    case 'key-file-unreadable':
      return `The key file cannot be read (${trouble.what}), so the private records stay locked. Check that you may open it.`;
    case 'no-key-in-file':
      return 'The file that was named as key file holds no key, so the private records stay locked. Check that it is the right file.';
    case 'other-key':
      return 'This is the key of another practice; it does not open these private records. Nothing was changed. Use the right key.';
    case 'wrong-passphrase':
      return 'The passphrase does not open the private records. Nothing was changed. Check capitals and keyboard language, then try again.';
    case 'key-damaged':
      return trouble.absent
        ? 'private/key.age, which the passphrase opens, is missing, so the private records stay locked. Put it back from a copy. Nothing was changed.'
        : 'private/key.age, which the passphrase opens, is damaged, so the private records stay locked. Restore it from a copy. Nothing was changed.';
  }
}

export { keepKey };
