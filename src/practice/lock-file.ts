import { createHash } from 'node:crypto';
import { link, open, readdir, readFile, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { codeOf } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import { isDead, type LockHolder, parseHolder } from './lock-holder.js';
import { writeAll } from './write-atomically.js';

/** `tookOver`: the one before was killed while it held the lock. */
export type LockTry =
  | { kind: 'got'; tookOver: boolean }
  | { kind: 'busy'; holder: LockHolder }
  | { kind: 'again' };

/**
 * Tries once to take a lock file. The file is a hard link to one written in full beforehand, so nobody ever reads
 * half a lock. A dead holder's lock is never removed and made anew (two could do so at once, and both would hold
 * it); instead one contender at a time may take it over: the one that holds the take file named after the dead
 * holder's nonce, checks that the lock still is the dead one's, and renames its own file over it. A take file is a
 * lock like any other, so a contender that died half-way is taken over in the same way.
 */
export async function tryLock(path: string, self: LockHolder): Promise<LockTry> {
  const own = `${path}.own.${self.nonce}`;
  await writeOwn(own, self);
  try {
    return await tryPlace(path, own, self);
  } finally {
    await rm(own, { force: true });
  }
}

async function tryPlace(path: string, own: string, self: LockHolder): Promise<LockTry> {
  if (await tryLink(own, path)) return { kind: 'got', tookOver: false };
  const holder = await readHolder(path);
  if (holder === null) return { kind: 'again' };
  if (!(await isDead(holder, self)) && !isUnreadable(holder)) return { kind: 'busy', holder };
  const take = `${basePath(path)}.take.${holder.nonce}`;
  const taking = await tryPlace(take, own, self);
  if (taking.kind !== 'got') return taking.kind === 'busy' ? { kind: 'again' } : taking;
  try {
    const still = await readHolder(path);
    if (still?.nonce !== holder.nonce) return { kind: 'again' };
    await replaceBy(own, path);
    return { kind: 'got', tookOver: true };
  } finally {
    await releaseLock(take, self);
  }
}

/** Take files of take files are named after the lock itself, so that names stay short. */
const basePath = (path: string): string => path.replace(/\.take\.[0-9a-f]+$/, '');

async function writeOwn(own: string, self: LockHolder): Promise<void> {
  const handle = await open(own, 'wx', PRIVATE_FILE_MODE);
  try {
    await writeAll(handle, Buffer.from(JSON.stringify(self)));
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function tryLink(own: string, path: string): Promise<boolean> {
  try {
    await link(own, path);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
}

/** Renames a second link, so that `own` stays: rename(2) does nothing when both names are links of one file. */
async function replaceBy(own: string, path: string): Promise<void> {
  const second = `${own}.over`;
  await link(own, second);
  try {
    await rename(second, path);
  } finally {
    await rm(second, { force: true });
  }
}

/** The holder; null when the lock is free by now. A lock nobody can read is nobody's: its nonce is its content's hash. */
async function readHolder(path: string): Promise<LockHolder | null> {
  const text = await readFile(path, 'utf8').catch((error) => {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  });
  if (text === null) return null;
  const nonce = createHash('sha256').update(text).digest('hex').slice(0, 24);
  return parseHolder(text) ?? { ...UNREADABLE, nonce };
}

const UNREADABLE: LockHolder = {
  nonce: '',
  what: 'unknown',
  since: 'unknown',
  pid: 0,
  host: '',
  boot: null,
  place: null,
  started: null,
};

const isUnreadable = (holder: LockHolder): boolean => holder.host === '' && holder.pid === 0;

/** Gives a lock back, if it still is one's own. */
export async function releaseLock(path: string, self: LockHolder): Promise<void> {
  const holder = await readHolder(path);
  if (holder?.nonce === self.nonce) await rm(path, { force: true });
}

/**
 * Removes what contenders that died have left. Only for the one who holds the lock: take files speak of holders that
 * are gone for good, so none of them can decide anything any more.
 */
export async function tidyLock(path: string, self: LockHolder): Promise<void> {
  const folder = dirname(path);
  for (const name of await readdir(folder)) {
    if (!name.startsWith(`${basename(path)}.`) || name.includes(self.nonce)) continue;
    const leftover = join(folder, name);
    const holder = await readHolder(leftover);
    // What cannot be read may be a contender's own file, just being written.
    if (holder === null || isUnreadable(holder) || !(await isDead(holder, self))) continue;
    await rm(leftover, { force: true });
  }
}
