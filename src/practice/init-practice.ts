import { lstat, mkdir } from 'node:fs/promises';
import { relative, resolve } from 'node:path';
import type { RandomBytes } from '../core/code.js';
import { sentenceOf } from '../core/reason-sentence.js';
import { diskReason } from './disk-reason.js';
import { makeFolders } from './folders.js';
import { pathsOf, SETTINGS_FILE } from './practice-paths.js';
import { PRACTICE_TEXT } from './practice-text.js';
import { makeSecret } from './secret.js';
import { writeAtomically } from './write-atomically.js';

export type InitResult =
  | { ok: true; root: string /** Made now, relative to the root. */; made: string[] }
  | { ok: false; sentence: string };

/**
 * Makes a practice folder. Refuses one that has a practice.yaml, and overwrites nothing; practice.yaml comes last,
 * so that an init cut short can simply be run again.
 */
export async function initPractice(folder: string, random?: RandomBytes): Promise<InitResult> {
  const root = resolve(folder);
  const paths = pathsOf(root, null);
  try {
    await mkdir(root, { recursive: true });
    if (await isThere(paths.settingsFile)) {
      return { ok: false, sentence: `There is a ${SETTINGS_FILE} already. Nothing was changed.` };
    }
    const made = await makeFolders(paths);
    const secret = await makeSecret(paths, random);
    if (secret.kind !== 'kept') return { ok: false, sentence: sentenceOf(secret.reason) };
    const settings = await writeAtomically(paths.settingsFile, Buffer.from(PRACTICE_TEXT), {
      constantTimes: true,
    });
    if (settings.kind !== 'kept') return { ok: false, sentence: sentenceOf(settings.reason) };
    const files = [paths.settingsFile, ...(secret.value ? [paths.secret] : [])];
    return { ok: true, root, made: [...files, ...made].map((path) => relative(root, path)).sort() };
  } catch (error) {
    return { ok: false, sentence: sentenceOf(diskReason(error)) };
  }
}

const isThere = (path: string): Promise<boolean> =>
  lstat(path).then(
    () => true,
    () => false,
  );
