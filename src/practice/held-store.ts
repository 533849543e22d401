import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { diskReason, unreadableReason } from './disk-reason.js';
import type { Practice } from './practice-paths.js';
import { ifUnlocked } from './protection/protection.js';
import { isObject, readRecord, writeRecord } from './record-file.js';
import { syncFolder } from './write-atomically.js';

/** Something a person must look at, under private/held/<id>.json. Its content is the caller's JSON object. */
export interface StoredHold {
  id: string;
  hold: Record<string, unknown>;
}

const FILE = /^([A-Za-z0-9-]{1,80})\.json$/;

/** Lists a hold; the same id again replaces the older one. */
export const saveHeld = (practice: Practice, id: string, hold: object): Promise<Outcome<null>> =>
  writeRecord(practice, pathOf(practice, id), hold);

/** All that is held, by id. */
export async function listHeld(practice: Practice): Promise<Outcome<StoredHold[]>> {
  const readable = ifUnlocked(practice);
  if (readable.kind !== 'kept') return readable;
  const holds: StoredHold[] = [];
  try {
    for (const name of (await readdir(practice.paths.held)).sort()) {
      const id = FILE.exec(name)?.[1];
      if (id === undefined) continue;
      const read = await readRecord(practice, pathOf(practice, id), `held/${name}`, isObject);
      if (read.kind !== 'kept') return read;
      if (read.value !== null) holds.push({ id, hold: read.value });
    }
    return kept(holds);
  } catch (error) {
    return failed(unreadableReason(error));
  }
}

/** Takes a hold off the list; one that is not on it counts as settled. */
export async function settleHeld(practice: Practice, id: string): Promise<Outcome<null>> {
  try {
    await rm(pathOf(practice, id), { force: true });
    await syncFolder(practice.paths.held);
    return kept(null);
  } catch (error) {
    return failed(diskReason(error));
  }
}

function pathOf(practice: Practice, id: string): string {
  const name = `${id}.json`;
  if (!FILE.test(name)) throw new TypeError('a held id is made of letters, digits and hyphens');
  return join(practice.paths.held, name);
}
