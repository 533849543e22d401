import { chmod, chown, mkdir, stat } from 'node:fs/promises';
import { settleTime } from './constant-time.js';
import { codeOf } from './disk-reason.js';
import { openFolders, type PracticePaths, privateFolders } from './practice-paths.js';

export const PRIVATE_FOLDER_MODE = 0o700;
export const PRIVATE_FILE_MODE = 0o600;

/** Makes what is missing of a practice's folders and returns what it made. */
export async function makeFolders(paths: PracticePaths): Promise<string[]> {
  const made: string[] = [];
  for (const folder of [paths.private, ...privateFolders(paths)]) {
    if (await makeFolder(folder, PRIVATE_FOLDER_MODE)) made.push(folder);
  }
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

/** Any bit for the group or for others. */
const OTHERS = 0o077;

/**
 * Closes private/ and what it keeps secret to everybody but its owner, since a copy or a restored backup may have opened
 * them. @returns why not, in words; null once nobody else can read
 */
export async function closeToOthers(root: string, paths: PracticePaths): Promise<string | null> {
  // Windows keeps no such modes; there the rights of the folder above hold.
  if (process.platform === 'win32') return null;
  const isOwn = await ensureOwner(root, paths.private);
  if (!isOwn) {
    return 'The private folder belongs to another user of this computer, who can read it. Let its owner run the program, or have the folder given to you (chown).';
  }
  for (const folder of [paths.private, ...privateFolders(paths)]) {
    if (!(await ensureMode(folder, PRIVATE_FOLDER_MODE))) return OPEN_TO_OTHERS;
  }
  for (const file of [paths.secret, paths.key, paths.protection, paths.patients]) {
    if (!(await ensureMode(file, PRIVATE_FILE_MODE))) return OPEN_TO_OTHERS;
  }
  return null;
}

const OPEN_TO_OTHERS =
  'The private folder can be read by other users of this computer, and that could not be changed; some disks (USB sticks, network shares) know no rights. Move it to a disk that does, and name the place under "private" in practice.yaml.';

/** True once nobody but the owner has rights; also when there is no such file. */
async function ensureMode(path: string, mode: number): Promise<boolean> {
  const before = await modeOf(path);
  if (before === null || (before & OTHERS) === 0) return true;
  await chmod(path, mode).catch(() => undefined);
  const after = await modeOf(path);
  return after === null || (after & OTHERS) === 0;
}

const modeOf = (path: string): Promise<number | null> =>
  stat(path).then(
    ({ mode }) => mode,
    (error: unknown) => {
      if (codeOf(error) === 'ENOENT') return null;
      throw error;
    },
  );

/** It must belong to whoever runs this, or to the owner of the practice when an administrator does. */
async function ensureOwner(root: string, path: string): Promise<boolean> {
  const self = process.getuid?.();
  const { uid } = await stat(path);
  if (self === undefined || uid === self || (self === 0 && uid === (await stat(root)).uid)) return true;
  await chown(path, self, -1).catch(() => undefined);
  return (await stat(path)).uid === self;
}
