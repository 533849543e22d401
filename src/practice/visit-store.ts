import { createHash } from 'node:crypto';
import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { diskReason, unreadableReason } from './disk-reason.js';
import { PRIVATE_FOLDER_MODE } from './folders.js';
import type { Practice } from './practice-paths.js';
import { readPrivate, writePrivate } from './protection/private-file.js';
import { ifUnlocked } from './protection/protection.js';
import { isObject, isText, readRecord, writeRecord } from './record-file.js';
import { syncFolder } from './write-atomically.js';

/** A visit on file: the accepted sidecar and what became of its pictures. */
export interface StoredVisitFiles {
  id: string;
  sidecar: Uint8Array;
  /** JSON of the caller's. */
  pictures: unknown;
  /** False when a kill came between the two files: pictures.json belongs to another sidecar. File the visit again. */
  matches: boolean;
}

interface PicturesFile {
  sidecarSha256: string;
  pictures: unknown;
}

const ID = /^[A-Za-z0-9-]{1,80}$/;

/** Puts a visit under private/visits/<id>/: pictures.json first, visit.yaml last, since it is the truth from then on. */
export async function saveVisit(
  practice: Practice,
  id: string,
  visit: { sidecar: Uint8Array; pictures: unknown },
): Promise<Outcome<null>> {
  const folder = folderOf(practice, id);
  try {
    const made = await mkdir(folder, { recursive: true, mode: PRIVATE_FOLDER_MODE });
    if (made !== undefined) await syncFolder(practice.paths.visits);
  } catch (error) {
    return failed(diskReason(error));
  }
  const file: PicturesFile = { sidecarSha256: sha256(visit.sidecar), pictures: visit.pictures };
  const pictures = await writeRecord(practice, join(folder, 'pictures.json'), file);
  if (pictures.kind !== 'kept') return pictures;
  return writePrivate(practice, join(folder, 'visit.yaml'), visit.sidecar);
}

/** A visit, or null when it was never filed to the end. */
export async function loadVisit(practice: Practice, id: string): Promise<Outcome<StoredVisitFiles | null>> {
  const folder = folderOf(practice, id);
  const read = await readRecord(
    practice,
    join(folder, 'pictures.json'),
    `visits/${id}/pictures.json`,
    isPicturesFile,
  );
  if (read.kind !== 'kept') return read;
  if (read.value === null) return kept(null);
  const sidecar = await readPrivate(practice, join(folder, 'visit.yaml'), `visits/${id}/visit.yaml`);
  if (sidecar.kind !== 'kept') return sidecar;
  if (sidecar.value === null) return kept(null);
  const matches = sha256(sidecar.value) === read.value.sidecarSha256;
  return kept({ id, sidecar: sidecar.value, pictures: read.value.pictures, matches });
}

/** All visits on file, by id. One that is damaged spoils the list: better no work than work on half a record. */
export async function listVisits(practice: Practice): Promise<Outcome<StoredVisitFiles[]>> {
  const readable = ifUnlocked(practice);
  if (readable.kind !== 'kept') return readable;
  const visits: StoredVisitFiles[] = [];
  try {
    for (const id of (await readdir(practice.paths.visits)).filter((name) => ID.test(name)).sort()) {
      const visit = await loadVisit(practice, id);
      if (visit.kind !== 'kept') return visit;
      if (visit.value !== null) visits.push(visit.value);
    }
    return kept(visits);
  } catch (error) {
    return failed(unreadableReason(error));
  }
}

function folderOf(practice: Practice, id: string): string {
  if (!ID.test(id)) throw new TypeError('a visit id is made of letters, digits and hyphens');
  return join(practice.paths.visits, id);
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const isPicturesFile = (value: unknown): value is PicturesFile =>
  isObject(value) && isText(value['sidecarSha256']) && 'pictures' in value;
