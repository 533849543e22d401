import { createHash } from 'node:crypto';
import { mkdir, readFile, rmdir } from 'node:fs/promises';
import { join } from 'node:path';
import {
  appendRegister,
  PRIVATE_FOLDER_MODE,
  type Practice,
  readRegister,
  removeFile,
  type ShareRecord,
  settleTime,
  sharesIn,
  writeOpenly,
  writePaper,
} from '../../practice/index.js';
import { orTrouble } from '../trouble.js';
import { currentShares } from './versions.js';

/** A file to be released, by its name within outbox/<share code>/. */
export interface Content {
  name: string;
  bytes: Uint8Array;
}

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Writes a file of the outbox; another one in tests, which break off half-way. */
export type Put = (path: string, bytes: Uint8Array) => Promise<void>;

const putOpenly: Put = async (path, bytes) => {
  orTrouble(await writeOpenly(path, bytes));
};

const placeOf = (practice: Practice, shareCode: string, name: string): string =>
  join(practice.paths.outbox, shareCode, name);

/** The register says what will lie there, then it lies there, then the register says that it does. Under the lock. */
export async function release(
  practice: Practice,
  record: ShareRecord,
  contents: readonly Content[],
  put: Put = putOpenly,
): Promise<void> {
  orTrouble(await appendRegister(practice, { kind: 'begun', ...record }));
  for (const { name, bytes } of contents) await put(placeOf(practice, record.shareCode, name), bytes);
  orTrouble(await appendRegister(practice, { kind: 'shared', ...record }));
}

/**
 * Ends what a kill or a full disk left between its beginning and its end: with every file in place it counts as shared,
 * since somebody may have sent it; else what lies there of it is taken away again. Under the lock.
 */
export async function finishInterrupted(practice: Practice, now: () => Date): Promise<void> {
  const { shared, unfinished } = sharesIn(orTrouble(await readRegister(practice)));
  const listed = new Set(currentShares(shared).flatMap(pathsOf));
  for (const record of unfinished) {
    if (await isWhole(practice, record)) {
      orTrouble(await appendRegister(practice, { kind: 'shared', ...record }));
      continue;
    }
    for (const { name } of record.files) {
      if (listed.has(`${record.shareCode}/${name}`)) continue;
      orTrouble(await removeFile(placeOf(practice, record.shareCode, name)));
    }
    await removeEmptyFolder(practice, record.shareCode);
    orTrouble(await appendRegister(practice, { kind: 'undone', id: record.id, at: now().toISOString() }));
  }
}

const pathsOf = ({ shareCode, files }: ShareRecord): string[] =>
  files.map(({ name }) => `${shareCode}/${name}`);

async function isWhole(practice: Practice, { shareCode, files }: ShareRecord): Promise<boolean> {
  for (const { name, sha256 } of files) {
    const bytes = await readFile(placeOf(practice, shareCode, name)).catch(() => null);
    if (bytes === null || sha256Of(bytes) !== sha256) return false;
  }
  return true;
}

/**
 * Moves files that must not be sent any more (an earlier version, a consent withdrawn) out of the outbox into
 * private/records/retired/: nobody sends them by mistake, and the practice still has what it once shared. Under the lock.
 * @param mayStay of the last version of each sheet
 */
export async function retire(practice: Practice, mayStay: (record: ShareRecord) => boolean): Promise<void> {
  const { shared } = sharesIn(orTrouble(await readRegister(practice)));
  const stays = new Set(currentShares(shared).filter(mayStay).flatMap(pathsOf));
  for (const record of shared) {
    for (const { name } of record.files) {
      if (!stays.has(`${record.shareCode}/${name}`)) await retireFile(practice, record.shareCode, name);
    }
    await removeEmptyFolder(practice, record.shareCode);
  }
}

async function retireFile(practice: Practice, shareCode: string, name: string): Promise<void> {
  const from = placeOf(practice, shareCode, name);
  const bytes = await readFile(from).catch(() => null);
  if (bytes === null) return;
  const folder = join(practice.paths.records, 'retired');
  await mkdir(folder, { recursive: true, mode: PRIVATE_FOLDER_MODE });
  orTrouble(await writePaper(practice, join(folder, name), bytes));
  orTrouble(await removeFile(from));
}

/** A folder with anything in it stays. */
async function removeEmptyFolder(practice: Practice, shareCode: string): Promise<void> {
  await rmdir(join(practice.paths.outbox, shareCode)).then(
    () => settleTime(practice.paths.outbox),
    () => undefined,
  );
}
