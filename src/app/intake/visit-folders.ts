import { realpath, stat } from 'node:fs/promises';
import { basename, join, sep } from 'node:path';
import type { Practice } from '../../practice/index.js';

const SETTINGS = 'practice.yaml';

/**
 * What is wrong with folders that somebody named as visits, one sentence each: not there, no folder, or a practice
 * (its inbox, its private store) instead of a visit. Asked before anything is touched, so that a slip of the hand
 * never stores a practice's own files as pictures.
 */
export async function wrongVisitFolders(practice: Practice, folders: readonly string[]): Promise<string[]> {
  const sentences = await Promise.all(folders.map((folder) => whyNoVisit(practice, folder)));
  return sentences.flatMap((sentence) => sentence ?? []);
}

async function whyNoVisit(practice: Practice, folder: string): Promise<string | null> {
  const found = await stat(folder).catch(() => null);
  if (folder === '' || !found)
    return `There is no folder "${folder}". Check how it is spelt and where it lies.`;
  if (!found.isDirectory()) {
    return `"${folder}" is a file. Name the visit folder that holds the pictures and visit.yaml.`;
  }
  const real = await realpath(folder);
  const { inbox, private: store } = practice.paths;
  if (real === (await realOf(inbox))) {
    return `"${folder}" is the inbox itself. Name a visit folder in it, or take in all of them with: scopeleaf watch --once`;
  }
  if (await isThere(join(real, SETTINGS))) {
    return `"${folder}" is a practice folder, not a visit. Name a visit folder, for example one in its inbox.`;
  }
  const own = [store, practice.paths.cases, practice.paths.outbox, practice.paths.templates];
  for (const part of own) {
    if (isWithin(await realOf(part), real)) {
      return `"${folder}" belongs to the practice's own files (${basename(part)}). Name the folder as it came from the camera.`;
    }
  }
  return null;
}

/** A folder that is missing is compared by its name. */
const realOf = (path: string): Promise<string> => realpath(path).catch(() => path);

const isThere = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

const isWithin = (outer: string, path: string): boolean => path === outer || path.startsWith(outer + sep);
