import { mkdir, stat } from 'node:fs/promises';
import { dirname, relative, resolve } from 'node:path';
import type { RandomBytes } from '../core/code.js';
import { sentenceOf } from '../core/reason-sentence.js';
import type { Reason } from '../core/reasons.js';
import { diskReason } from './disk-reason.js';
import { findPractice } from './find-practice.js';
import { closeToOthers, makeFolders } from './folders.js';
import { pathsOf, SETTINGS_FILE } from './practice-paths.js';
import { PRACTICE_TEXT } from './practice-text.js';
import { makeSecret } from './secret.js';
import { writeAtomically } from './write-atomically.js';

export type InitResult =
  | { ok: true; root: string /** Made now, relative to the root. */; made: string[] }
  /** `usage`: another folder must be named; `disk`: the machine refused. */
  | { ok: false; because: 'usage' | 'disk'; sentence: string };

/**
 * Makes a practice folder. Refuses one that has a practice.yaml, and overwrites nothing; practice.yaml comes last,
 * so that an init cut short can simply be run again.
 */
export async function initPractice(folder: string, random?: RandomBytes): Promise<InitResult> {
  const root = resolve(folder);
  const paths = pathsOf(root, null);
  try {
    const wrong = await whyNotHere(root);
    if (wrong !== null) return { ok: false, because: 'usage', sentence: wrong };
    await makeWithParents(root);
    const made = await makeFolders(paths);
    const open = await closeToOthers(root, paths);
    if (open !== null) return { ok: false, because: 'disk', sentence: open };
    const secret = await makeSecret(paths, random);
    if (secret.kind !== 'kept') return refused(secret.reason);
    const settings = await writeAtomically(paths.settingsFile, Buffer.from(PRACTICE_TEXT), {
      constantTimes: true,
    });
    if (settings.kind !== 'kept') return refused(settings.reason);
    const files = [paths.settingsFile, ...(secret.value ? [paths.secret] : [])];
    return { ok: true, root, made: [...files, ...made].map((path) => relative(root, path)).sort() };
  } catch (error) {
    return refused(diskReason(error));
  }
}

/** One folder at a time: Node's own recursive mkdir never returns where the system refuses with "not there" (/proc). */
async function makeWithParents(folder: string): Promise<void> {
  const found = await stat(folder).catch(() => null);
  if (found) return;
  if (dirname(folder) !== folder) await makeWithParents(dirname(folder));
  await mkdir(folder);
}

const refused = (reason: Reason): InitResult => ({
  ok: false,
  because: 'disk',
  sentence: sentenceOf(reason),
});

/** A practice inside another would be taken for a visit of it, and its names would lie among somebody else's. */
async function whyNotHere(root: string): Promise<string | null> {
  const found = await stat(root).catch(() => null);
  if (found && !found.isDirectory()) {
    return 'There is a file of that name already. Name a folder that is new or empty. Nothing was changed.';
  }
  const above = await findPractice({ env: {}, cwd: root });
  if (!above.ok) return null;
  return above.root === root
    ? `There is a ${SETTINGS_FILE} already. Nothing was changed.`
    : 'That folder lies inside another practice. Name a folder outside of it. Nothing was changed.';
}
