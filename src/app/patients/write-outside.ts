import { mkdir, open, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve } from 'node:path';
import type { Practice } from '../../practice/index.js';
import { Trouble } from '../trouble.js';

/**
 * Makes a folder for a person's copies of private things: new, outside of the practice, for the owner alone.
 * @returns its real path, or why it cannot be, in words
 */
export async function makeFolderOutside(
  practice: Practice,
  folder: string,
): Promise<{ path: string } | { sentence: string }> {
  const place = resolve(folder);
  if (await stat(place).catch(() => null)) {
    return {
      sentence:
        'That folder is there already. Name one that is new, so that nothing is mixed or written over.',
    };
  }
  const parent = await realpath(dirname(place)).catch(() => null);
  if (parent === null) {
    return { sentence: 'The folder above it does not exist. Check the path.' };
  }
  const path = join(parent, basename(place));
  for (const own of [practice.root, practice.paths.private]) {
    if (isWithin(await realpath(own), path)) {
      return {
        sentence:
          'That lies inside the practice folder. Name a place outside of it; private things never go there.',
      };
    }
  }
  try {
    await mkdir(path, { mode: 0o700 });
  } catch {
    return { sentence: 'The folder could not be made. Check that you may write there.' };
  }
  return { path };
}

const isWithin = (folder: string, path: string): boolean => {
  const way = relative(folder, path);
  return way === '' || (!way.startsWith('..') && !way.startsWith('/'));
};

/**
 * Writes a new file below a folder, for the owner alone. `name` may have sub-folders; a step that would lead out is
 * taken as a plain word, and a name that is taken gets a number.
 */
export async function writeNewBelow(folder: string, name: string, bytes: Uint8Array): Promise<void> {
  const steps = name.split(/[/\\]/).filter((step) => step !== '' && step !== '.' && step !== '..');
  const file = steps.pop() ?? 'file';
  const place = join(folder, ...steps);
  try {
    await mkdir(place, { recursive: true, mode: 0o700 });
    for (let copy = 1; ; copy += 1) {
      const handle = await open(join(place, numbered(file, copy)), 'wx', 0o600).catch((error: unknown) => {
        if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return null;
        throw error;
      });
      if (!handle) continue;
      try {
        await handle.writeFile(bytes);
        await handle.sync();
      } finally {
        await handle.close();
      }
      return;
    }
  } catch {
    throw new Trouble({ code: 'disk', what: 'a copy could not be written' });
  }
}

const numbered = (file: string, copy: number): string =>
  copy === 1 ? file : file.replace(/(\.[^.]*)?$/, ` (${copy})$1`);
