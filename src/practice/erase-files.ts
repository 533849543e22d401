import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { settleTime } from './constant-time.js';
import { codeOf, diskReason } from './disk-reason.js';
import type { Practice } from './practice-paths.js';
import { SEALED_SUFFIX } from './protection/stored-picture.js';
import { sweepLeftovers } from './sweep-leftovers.js';
import { syncFolder } from './write-atomically.js';

/** What lies on the disk of one patient, by the names it lies under. */
export interface PatientFiles {
  /** Case codes. */
  codes: string[];
  shareCodes: string[];
  /** Ids of visits and of holds. */
  visits: string[];
  held: string[];
  originals: { sha256: string; extension: string }[];
  /** SHA-256 of display pictures. */
  displays: string[];
  /** Names of dropped folders. */
  folders: string[];
  /** Names of files under records/retired. */
  retired: string[];
}

/**
 * Removes all files of a patient; what is gone already counts as removed, so it may be run again after a kill. The
 * cache goes as a whole: what lies there can be made again, and does not say whose it is. Deleted, not overwritten.
 */
export async function eraseFiles(practice: Practice, files: PatientFiles): Promise<Outcome<null>> {
  const { paths } = practice;
  const sha256s = new Set(files.originals.map(({ sha256 }) => sha256));
  const displays = new Set(files.displays);
  const isOf = (names: ReadonlySet<string>) => (name: string) => names.has(name.split('.')[0] as string);
  const slips = new Set(files.shareCodes.map((code) => `${code}-cover-slip`));
  const retired = new Set(files.retired.flatMap((name) => [name, name + SEALED_SUFFIX]));
  try {
    for (const { sha256, extension } of files.originals) {
      const path = join(paths.originals, `${sha256}.${extension}`);
      await rm(path, { force: true });
      await rm(path + SEALED_SUFFIX, { force: true });
    }
    await removeWhere(paths.stripped, isOf(sha256s));
    await removeWhere(paths.limited, isOf(displays));
    await removeWhere(paths.records, isOf(slips));
    await removeWhere(join(paths.records, 'retired'), (name) => retired.has(name));
    await removeWhere(paths.cache, () => true);
    await removeWhere(paths.tmp, () => true);
    await removeWhere(paths.held, isOf(new Set(files.held)));
    await removeWhere(paths.visits, (name) => files.visits.includes(name));
    await removeWhere(paths.drafts, (name) => files.folders.includes(name.normalize('NFC')));
    await removeWhere(paths.private, (name) => /\.torn(\.age)?$/.test(name));
    for (const [folder, names] of [
      [paths.cases, files.codes],
      [paths.outbox, files.shareCodes],
    ] as const) {
      await removeWhere(folder, (name) => names.includes(name));
      await settleTime(folder);
    }
    await syncFolder(paths.originals);
    await sweepLeftovers(practice);
    return kept(null);
  } catch (error) {
    return failed(diskReason(error));
  }
}

async function removeWhere(folder: string, isGone: (name: string) => boolean): Promise<void> {
  const names = await readdir(folder).catch((error: unknown) => {
    if (codeOf(error) === 'ENOENT') return [];
    throw error;
  });
  const gone = names.filter(isGone);
  for (const name of gone) await rm(join(folder, name), { recursive: true, force: true });
  if (gone.length > 0) await syncFolder(folder);
}
