import { open, readFile, stat } from 'node:fs/promises';
import { dirname, relative, resolve } from 'node:path';
import { failed, kept, type Outcome } from '../../core/outcome.js';
import { codeOf, diskReason } from '../disk-reason.js';
import { PRIVATE_FILE_MODE } from '../folders.js';
import type { Practice } from '../practice-paths.js';
import { syncFolder, writeAll, writeAtomically } from '../write-atomically.js';
import { newIdentity, recipientOfIdentity, unwrapIdentity, wrapIdentity } from './age.js';
import type { Protection } from './protection.js';
import { readKeyFile, sha256Of } from './unlock.js';

/** What the key of a practice is to be kept in. */
export type KeyWish =
  | { how: 'passphrase'; passphrase: string; workFactor?: number }
  /** A file outside of the practice; made when it is not there. */
  | { how: 'key-file'; path: string };

export type MadeKey =
  | { ok: true; protection: Protection }
  | { ok: false; why: 'inside-practice' | 'no-key-in-file' | 'unreadable' | 'old-key' | 'no-folder' };

/** Makes the practice's identity and keeps it as wished. A key that is there already is used, never written over. */
export async function makeKey(
  practice: Practice,
  wish: KeyWish,
  originals: boolean,
): Promise<Outcome<MadeKey>> {
  const made =
    wish.how === 'passphrase' ? await underPassphrase(practice, wish) : await inFile(practice, wish.path);
  if (made.kind !== 'kept' || 'why' in made.value) return made as Outcome<MadeKey>;
  const { identity, keySha256 } = made.value;
  const recipient = await recipientOfIdentity(identity);
  if (recipient === null) return kept({ ok: false, why: 'no-key-in-file' });
  const { how } = wish;
  return kept({
    ok: true,
    protection: { version: 1, recipient, how, originals, state: 'protecting', keySha256, identity },
  });
}

type Kept = { identity: string; keySha256: string | null } | Extract<MadeKey, { ok: false }>;

/** private/key.age; one that an interrupted command left is taken if the passphrase opens it. */
async function underPassphrase(
  { paths }: Practice,
  { passphrase, workFactor }: Extract<KeyWish, { how: 'passphrase' }>,
): Promise<Outcome<Kept>> {
  try {
    const old = await readFile(paths.key).catch(absent);
    if (old) {
      const identity = await unwrapIdentity(old, passphrase);
      return kept(identity ? { identity, keySha256: sha256Of(old) } : { ok: false, why: 'old-key' });
    }
    const identity = await newIdentity();
    const wrapped = await wrapIdentity(identity, passphrase, workFactor);
    const written = await writeAtomically(paths.key, wrapped, { mode: PRIVATE_FILE_MODE });
    if (written.kind !== 'kept') return written;
    // Read back from the disk before anything depends on it.
    const back = await readFile(paths.key);
    if ((await unwrapIdentity(back, passphrase)) !== identity) {
      return failed({ code: 'disk', what: 'the key could not be read back' });
    }
    return kept({ identity, keySha256: sha256Of(back) });
  } catch (error) {
    return failed(diskReason(error));
  }
}

async function inFile({ root, paths }: Practice, path: string): Promise<Outcome<Kept>> {
  const place = resolve(path);
  // A key beside what it locks goes wherever that goes: backups, a stolen disk.
  if ([root, paths.private].some((folder) => isWithin(folder, place))) {
    return kept({ ok: false, why: 'inside-practice' });
  }
  try {
    if (await stat(place).catch(absent)) {
      const read = await readKeyFile(place);
      if ('identity' in read) return kept({ identity: read.identity, keySha256: null });
      return kept({
        ok: false,
        why: read.trouble.kind === 'no-key-in-file' ? 'no-key-in-file' : 'unreadable',
      });
    }
    if (!(await stat(dirname(place)).catch(absent))) return kept({ ok: false, why: 'no-folder' });
    const identity = await newIdentity();
    const text = `# key of a Scopeleaf practice\n# public key: ${await recipientOfIdentity(identity)}\n${identity}\n`;
    await writeNew(place, Buffer.from(text));
    return kept({ identity, keySha256: null });
  } catch (error) {
    return failed(diskReason(error));
  }
}

/** Fails when the file is there: a key is never written over. */
async function writeNew(path: string, bytes: Uint8Array): Promise<void> {
  const handle = await open(path, 'wx', PRIVATE_FILE_MODE);
  try {
    await writeAll(handle, bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await syncFolder(dirname(path));
}

function absent(error: unknown): null {
  if (codeOf(error) === 'ENOENT') return null;
  throw error;
}

const isWithin = (folder: string, path: string): boolean => {
  const way = relative(folder, path);
  return way === '' || (!way.startsWith('..') && !way.startsWith('/'));
};
