import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Practice } from './practice-paths.js';
import { TEMPORARY_NAME } from './write-atomically.js';

/**
 * Removes half-written temporary files of a killed run, and all of private/tmp: pictures that wait there are not covered
 * yet, and in clear also where others lie encrypted. Only for the one who holds the lock; never in the inbox.
 */
export async function sweepLeftovers(practice: Practice): Promise<number> {
  const { paths } = practice;
  let removed = 0;
  for (const name of await readdir(paths.tmp)) {
    await rm(join(paths.tmp, name), { recursive: true, force: true });
    removed += 1;
  }
  for (const folder of [paths.private, paths.cases, paths.outbox, paths.templates])
    removed += await sweep(folder);
  return removed;
}

async function sweep(folder: string): Promise<number> {
  let removed = 0;
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) removed += await sweep(path);
    else if (entry.isFile() && TEMPORARY_NAME.test(entry.name)) {
      await rm(path, { force: true });
      removed += 1;
    }
  }
  return removed;
}
