import { access, mkdir, readdir, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { settleTime } from './constant-time.js';
import { codeOf, diskReason } from './disk-reason.js';
import { moveFile } from './move-file.js';
import { type Practice, SETTINGS_FILE } from './practice-paths.js';
import { syncFolder, type WriteOptions, writeAtomically } from './write-atomically.js';

const OPEN_FILE_MODE = 0o644;

/** cases/<CODE>/images/01-pre-op.png lies three folders deep. */
const DEEPEST = 3;

/** Writes a file outside private/, making its folders; file and folders get the one constant time. */
export async function writeOpenly(
  path: string,
  bytes: Uint8Array,
  options: WriteOptions = {},
): Promise<Outcome<null>> {
  try {
    await mkdir(dirname(path), { recursive: true });
    const written = await writeAtomically(path, bytes, { constantTimes: true, ...options });
    if (written.kind === 'kept') await settleAbove(path);
    return written;
  } catch (error) {
    return failed(diskReason(error));
  }
}

/**
 * Moves a file out of private/ to its place under cases/ or outbox/, also across disks. Run again after a kill it
 * finishes: a source already gone with the file in place counts as done.
 */
export async function placeFile(from: string, to: string): Promise<Outcome<null>> {
  try {
    await mkdir(dirname(to), { recursive: true });
    await moveFile(from, to, { mode: OPEN_FILE_MODE, constantTimes: true });
    await settleAbove(to);
    return kept(null);
  } catch (error) {
    if (codeOf(error) === 'ENOENT' && (await isThere(to))) return kept(null);
    return failed(diskReason(error));
  }
}

/** Removes one file for good; one that is gone already counts as removed. */
export async function removeFile(path: string): Promise<Outcome<null>> {
  try {
    await rm(path);
    await syncFolder(dirname(path));
    await settleAbove(path);
    return kept(null);
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? kept(null) : failed(diskReason(error));
  }
}

/** Empties private/tmp. Only for the one who holds the lock. */
export async function clearTmp(practice: Practice): Promise<Outcome<null>> {
  const { tmp } = practice.paths;
  try {
    for (const name of await readdir(tmp)) await rm(join(tmp, name), { recursive: true, force: true });
    return kept(null);
  } catch (error) {
    return failed(diskReason(error));
  }
}

/** The folders above a file, up to the practice's own: none may tell when the file came. */
async function settleAbove(path: string): Promise<void> {
  for (let folder = dirname(path), up = 0; up < DEEPEST; folder = dirname(folder), up += 1) {
    if (await isThere(join(folder, SETTINGS_FILE))) return;
    await settleTime(folder);
  }
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
