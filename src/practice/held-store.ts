import { createHash } from 'node:crypto';
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import type { Reason } from '../core/reasons.js';
import { diskReason, unreadableReason } from './disk-reason.js';
import type { Practice } from './practice-paths.js';
import { isObject, isText, readRecord, writeRecord } from './record-file.js';
import { syncFolder } from './write-atomically.js';

/** A dropped folder that a person must look at. Private: the folder's name often holds the patient's. */
export interface HeldDrop {
  folder: string;
  reason: Reason;
  /** Wall clock, ISO 8601; for showing only. Null when not known. */
  when: string | null;
  /** JSON of the caller's: held pictures, mistakes of the sidecar. */
  details?: unknown;
}

/** Lists a drop as held; the same folder again replaces the older entry. */
export const saveHeld = (practice: Practice, drop: HeldDrop): Promise<Outcome<null>> =>
  writeRecord(pathOf(practice, drop.folder), drop);

/** All held drops, by folder name. */
export async function listHeld(practice: Practice): Promise<Outcome<HeldDrop[]>> {
  const drops: HeldDrop[] = [];
  try {
    for (const name of await readdir(practice.paths.held)) {
      if (!/^[0-9a-f]{32}\.json$/.test(name)) continue;
      const read = await readRecord(join(practice.paths.held, name), `held/${name}`, isHeldDrop);
      if (read.kind !== 'kept') return read;
      if (read.value !== null) drops.push(read.value);
    }
  } catch (error) {
    return failed(unreadableReason(error));
  }
  return kept(drops.sort((a, b) => (a.folder < b.folder ? -1 : 1)));
}

/** Takes a drop off the list; true when it was on it. */
export async function settleHeld(practice: Practice, folder: string): Promise<Outcome<boolean>> {
  const path = pathOf(practice, folder);
  const read = await readRecord(path, 'held', isHeldDrop);
  if (read.kind === 'kept' && read.value === null) return kept(false);
  try {
    await rm(path, { force: true });
    await syncFolder(practice.paths.held);
    return kept(true);
  } catch (error) {
    return failed(diskReason(error));
  }
}

/** By a hash, since a folder's name may be too long, or not fit, as a file name. */
const pathOf = (practice: Practice, folder: string): string => {
  const id = createHash('sha256').update(folder.normalize('NFC')).digest('hex').slice(0, 32);
  return join(practice.paths.held, `${id}.json`);
};

const isHeldDrop = (value: unknown): value is HeldDrop =>
  isObject(value) && isText(value['folder']) && isObject(value['reason']) && isText(value['reason']['code']);
