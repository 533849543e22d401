import { lstat, readdir, utimes } from 'node:fs/promises';
import { join } from 'node:path';

/** The time of every file and folder outside private/, so that none tells the day of a treatment. */
export const CONSTANT_TIME = new Date('2000-01-01T00:00:00Z');

/** Sets one file or folder to the constant time. */
export const settleTime = (path: string): Promise<void> => utimes(path, CONSTANT_TIME, CONSTANT_TIME);

/** Sets a folder and all in it to the constant time, innermost first. Links are left alone. */
export async function settleTimes(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await settleTimes(path);
    else if (entry.isFile() && !(await isSettled(path))) await settleTime(path);
  }
  await settleTime(folder);
}

const isSettled = async (path: string): Promise<boolean> =>
  (await lstat(path)).mtimeMs === CONSTANT_TIME.getTime();
