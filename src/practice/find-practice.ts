import { stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { SETTINGS_FILE } from './practice-paths.js';

export interface WhereToLook {
  /** What -p or --practice said. */
  explicit?: string | undefined;
  env: Readonly<Record<string, string | undefined>>;
  cwd: string;
}

export type FoundPractice = { ok: true; root: string } | { ok: false; sentence: string };

/**
 * Where the practice is: the folder that was named, else $SCOPELEAF_PRACTICE, else the nearest folder at or above
 * `cwd` with a practice.yaml. A named folder without one is an error, never a reason to look elsewhere.
 */
export async function findPractice(where: WhereToLook): Promise<FoundPractice> {
  const { explicit, env, cwd } = where;
  if (explicit !== undefined) return named(resolve(cwd, explicit), 'The folder given with --practice');
  const fromEnv = env['SCOPELEAF_PRACTICE'];
  if (fromEnv !== undefined && fromEnv !== '') {
    return named(resolve(cwd, fromEnv), 'The folder that SCOPELEAF_PRACTICE names');
  }
  for (let folder = resolve(cwd); ; folder = dirname(folder)) {
    if (await hasSettings(folder)) return { ok: true, root: folder };
    if (folder === dirname(folder)) break;
  }
  return {
    ok: false,
    sentence: `No ${SETTINGS_FILE} here or in a folder above. Go to the practice folder, name it with --practice, or make one with: scopeleaf init`,
  };
}

async function named(root: string, how: string): Promise<FoundPractice> {
  if (await hasSettings(root)) return { ok: true, root };
  return {
    ok: false,
    sentence: `${how} has no ${SETTINGS_FILE}. Check the path, or make a practice there with: scopeleaf init`,
  };
}

const hasSettings = (folder: string): Promise<boolean> =>
  stat(join(folder, SETTINGS_FILE)).then(
    (found) => found.isFile(),
    () => false,
  );
