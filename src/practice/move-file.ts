import { open, readFile, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { CONSTANT_TIME } from './constant-time.js';
import { codeOf } from './disk-reason.js';
import { syncFolder, type WriteOptions, writeAtomically } from './write-atomically.js';

/**
 * Gives a finished file its lasting name: its bytes are fsynced first, then renamed, then the folder fsynced. Across
 * disks, where nothing can be renamed, it is copied whole and the source removed. Throws what the disk refuses.
 */
export async function moveFile(from: string, to: string, options: WriteOptions): Promise<void> {
  const handle = await open(from, 'r+');
  try {
    if (options.mode !== undefined) await handle.chmod(options.mode);
    if (options.constantTimes) await handle.utimes(CONSTANT_TIME, CONSTANT_TIME);
    await handle.sync();
  } finally {
    await handle.close();
  }
  try {
    await rename(from, to);
    await syncFolder(dirname(to));
  } catch (error) {
    if (codeOf(error) !== 'EXDEV') throw error;
    await copyAcross(from, to, options);
  }
}

async function copyAcross(from: string, to: string, options: WriteOptions): Promise<void> {
  const written = await writeAtomically(to, await readFile(from), options);
  if (written.kind !== 'kept') throw Object.assign(new Error('not copied'), { code: 'ENOSPC' });
  await rm(from);
}
