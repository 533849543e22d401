import { chmod, mkdir, stat } from 'node:fs/promises';
import { settleTime } from './constant-time.js';
import { codeOf } from './disk-reason.js';
import { openFolders, type PracticePaths, privateFolders } from './practice-paths.js';

export const PRIVATE_FOLDER_MODE = 0o700;
export const PRIVATE_FILE_MODE = 0o600;

/** Makes what is missing of a practice's folders, closes private/ to others, and returns what it made. */
export async function makeFolders(paths: PracticePaths): Promise<string[]> {
  const made: string[] = [];
  for (const folder of [paths.private, ...privateFolders(paths)]) {
    if (await makeFolder(folder, PRIVATE_FOLDER_MODE)) made.push(folder);
  }
  await closeToOthers(paths.private);
  if (await makeFolder(paths.inbox)) made.push(paths.inbox);
  for (const folder of openFolders(paths)) {
    if (!(await makeFolder(folder))) continue;
    made.push(folder);
    await settleTime(folder);
  }
  return made;
}

async function makeFolder(path: string, mode = 0o755): Promise<boolean> {
  try {
    await mkdir(path, { mode });
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
}

/** A copy or a restored backup may have opened private/ to others. Some disks know no modes; there it stays as it is. */
async function closeToOthers(path: string): Promise<void> {
  const { mode } = await stat(path);
  if ((mode & 0o077) !== 0) await chmod(path, PRIVATE_FOLDER_MODE).catch(() => undefined);
}
