import { readdir, readFile, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { sentenceOf } from '../core/reason-sentence.js';
import { troubleWords } from './disk-reason.js';
import { closeToOthers, makeFolders } from './folders.js';
import { type Practice, type PracticePaths, pathsOf, SETTINGS_FILE } from './practice-paths.js';
import { isSealedFile } from './protection/private-file.js';
import { loadProtection } from './protection/protection.js';
import { readSettings, type SettingsError } from './read-settings.js';
import { makeSecret, readSecret } from './secret.js';

export type OpenedPractice = { ok: true; practice: Practice } | { ok: false; errors: SettingsError[] };

/** Settings are a page of text; anything longer is another file under this name. */
const LONGEST_SETTINGS_BYTES = 1_000_000;

/**
 * Opens a practice: reads and checks practice.yaml, makes folders that are missing, closes private/ to others. Where
 * the private records are encrypted it comes back locked; `unlock` gives it the key. It never makes a fresh
 * private/ where one must have been before (a disk not connected, a folder lost): without it the pictures of the
 * old one could not be told from strangers.
 */
export async function openPractice(folder: string): Promise<OpenedPractice> {
  const root = resolve(folder);
  const text = await readText(root);
  if (typeof text !== 'string') return refused(text.sentence);
  const read = readSettings(text);
  if (!read.ok) return read;
  const { settings } = read;
  const paths = pathsOf(root, settings.private);
  try {
    const lost = await lostPrivate(paths, settings.private !== null);
    if (lost !== null) return refused(lost);
    await makeFolders(paths);
    const open = await closeToOthers(root, paths);
    if (open !== null) return refused(open);
    const secret = await makeSecret(paths);
    if (secret.kind !== 'kept') return refused(sentenceOf(secret.reason));
    const protection = await loadProtection(paths);
    if (protection.kind !== 'kept') return refused(sentenceOf(protection.reason));
    if (protection.value === null && (await isSealedFile(paths.patients))) return refused(PROTECTION_LOST);
    return { ok: true, practice: { root, settings, paths, protection: protection.value } };
  } catch (error) {
    return refused(`The folders of the practice could not be made (${troubleWords(error)}).`);
  }
}

const PROTECTION_LOST =
  'The private records are encrypted, but private/protection.json, which says how, is missing. Put it back from a copy; nothing was touched.';

const refused = (sentence: string): OpenedPractice => ({
  ok: false,
  errors: [{ file: SETTINGS_FILE, line: 1, column: 1, field: '', sentence }],
});

async function readText(root: string): Promise<string | { sentence: string }> {
  const path = pathsOf(root, null).settingsFile;
  try {
    const { size } = await stat(path);
    if (size > LONGEST_SETTINGS_BYTES) return { sentence: `${SETTINGS_FILE} is too long to be settings.` };
    return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(path));
  } catch (error) {
    if (error instanceof TypeError)
      return { sentence: `${SETTINGS_FILE} is not UTF-8 text. Save it as UTF-8.` };
    return { sentence: `${SETTINGS_FILE} could not be read (${troubleWords(error)}).` };
  }
}

async function lostPrivate(paths: PracticePaths, elsewhere: boolean): Promise<string | null> {
  const secret = await readSecret(paths);
  if (secret.kind !== 'kept' || secret.value !== null) return null;
  if (elsewhere) {
    return 'The private folder that practice.yaml names under "private" is not there. Connect its disk, or move the folder "private" of this practice to that place.';
  }
  if ((await holdsAnything(paths.cases)) || (await holdsAnything(paths.originals))) {
    return 'The folder "private" or the file "secret" in it is missing, though this practice has been used. Put it back from a copy; a new one would not fit.';
  }
  return null;
}

const holdsAnything = (folder: string): Promise<boolean> =>
  readdir(folder).then(
    (names) => names.some((name) => !name.startsWith('.')),
    () => false,
  );
