import {
  beginProtection,
  finishProtection,
  type KeyWish,
  type Practice,
  type Protecting,
  unprotect,
} from '../../practice/index.js';
import type { Ports } from '../ports.js';
import { asOnlyWriter } from '../session.js';
import { orTrouble, Trouble } from '../trouble.js';

export type { KeyWish };

export type Protect =
  | { kind: 'protected' | 'unprotected'; practice: Practice; changed: number }
  | { kind: 'already' }
  | { kind: 'refused'; sentence: string };

/** Fewer characters than this can be tried out; four or five random words are longer. */
const SHORTEST_PASSPHRASE = 12;

/** Why a passphrase will not do, in words; null when it will. */
export const weakness = (passphrase: string): string | null =>
  [...passphrase].length >= SHORTEST_PASSPHRASE
    ? null
    : `The passphrase is too short: at least ${SHORTEST_PASSPHRASE} characters, for example four or five random words. Nothing was changed.`;

const REFUSED = {
  'inside-practice':
    'The key file would lie inside the practice, beside what it locks, and go wherever that goes. Name a place elsewhere: another disk, or a stick. Nothing was changed.',
  'no-key-in-file':
    'There is a file of that name that holds no key, and it was not written over. Name another file. Nothing was changed.',
  unreadable: 'The key file cannot be read. Check that you may open it. Nothing was changed.',
  'no-folder':
    'The folder in which the key file is to lie is not there. Connect the disk or stick, or check the path. Nothing was changed.',
  'old-key': 'private/key.age of an earlier try is in the way. Move it elsewhere. Nothing was changed.',
} as const;

/**
 * Encrypts the private records, or goes on with that after a kill.
 * @param wish where the key is to be kept; asked for only when the practice has none yet
 * @param originals whether pictures are encrypted too; a practice that has them so keeps them so
 */
export async function protectPractice(
  practice: Practice,
  ports: Ports,
  wish: () => Promise<KeyWish | { sentence: string }>,
  originals: boolean,
): Promise<Protect> {
  if (practice.protection) return goOn(practice, ports, originals);
  const wished = await wish();
  if ('sentence' in wished) return { kind: 'refused', sentence: wished.sentence };
  return asOnlyWriter(practice, 'patients protect', async () => {
    const made = orTrouble(await beginProtection(practice, wished, originals));
    if (!made.ok) return { kind: 'refused', sentence: REFUSED[made.why] };
    return finish({ ...practice, protection: made.protection }, ports);
  });
}

async function goOn(practice: Practice, ports: Ports, originals: boolean): Promise<Protect> {
  const { protection } = practice;
  if (!protection?.identity) throw new Trouble({ code: 'locked' });
  if (protection.state === 'on' && (protection.originals || !originals)) return { kind: 'already' };
  const wider = { ...protection, originals: protection.originals || originals };
  return asOnlyWriter(practice, 'patients protect', () => finish({ ...practice, protection: wider }, ports));
}

async function finish(practice: Practice, ports: Ports): Promise<Protect> {
  const done = orTrouble(await finishProtection(practice, progressOf(ports, 'encrypting')));
  return ended('protected', done);
}

/** Decrypts everything, or goes on with that after a kill; with the key. */
export async function unprotectPractice(practice: Practice, ports: Ports): Promise<Protect> {
  if (!practice.protection) return { kind: 'already' };
  if (!practice.protection.identity) throw new Trouble({ code: 'locked' });
  return asOnlyWriter(practice, 'patients unprotect', async () =>
    ended('unprotected', orTrouble(await unprotect(practice, progressOf(ports, 'decrypting')))),
  );
}

const ended = (kind: 'protected' | 'unprotected', { practice, changed }: Protecting): Protect => ({
  kind,
  practice,
  changed,
});

const progressOf = (ports: Ports, doing: string) => (done: number, total: number) =>
  ports.progress(done, total, doing);
