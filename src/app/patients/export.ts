import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  listVisits,
  loadCodes,
  originalPath,
  type PatientEntry,
  type Practice,
  readPaper,
  readPicture,
  readRegister,
} from '../../practice/index.js';
import { jsonBytes } from '../json-bytes.js';
import { type OnFile, readOnFile, visitsOfCase } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { findPatient } from './find-patient.js';
import { makeFolderOutside, writeNewBelow } from './write-outside.js';

export type Export =
  | { kind: 'unknown' }
  | { kind: 'refused'; sentence: string }
  | { kind: 'exported'; folder: string; files: number };

/** Copies everything on one patient, readable, into a new folder outside of the practice. */
export async function exportPatient(
  practice: Practice,
  ports: Ports,
  wanted: string,
  folder: string,
): Promise<Export> {
  const onFile = await readOnFile(practice);
  const patient = findPatient(onFile, wanted);
  if (!patient) return { kind: 'unknown' };
  const made = await makeFolderOutside(practice, folder);
  if ('sentence' in made) return { kind: 'refused', sentence: made.sentence };
  let files = 0;
  const put = async (name: string, bytes: Uint8Array): Promise<void> => {
    await writeNewBelow(made.path, name, bytes);
    files += 1;
  };
  await putPerson(practice, patient, put);
  await putVisits(practice, ports, onFile, patient, put);
  await putCases(practice, patient, put);
  return { kind: 'exported', folder: made.path, files };
}

type Put = (name: string, bytes: Uint8Array) => Promise<void>;

async function putPerson(practice: Practice, patient: PatientEntry, put: Put): Promise<void> {
  await put('patient.json', jsonBytes(patient));
  const codes = patient.cases.map(({ code }) => code);
  const register = orTrouble(await readRegister(practice)).filter(
    (entry) => 'case' in entry && codes.includes(entry.case),
  );
  if (register.length > 0) await put('register.json', jsonBytes(register));
}

/** visits/<date> <id>/: the sidecar as it came, and every original under the name it came with. */
async function putVisits(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  patient: PatientEntry,
  put: Put,
): Promise<void> {
  const sidecars = new Map(orTrouble(await listVisits(practice)).map(({ id, sidecar }) => [id, sidecar]));
  const visits = patient.cases.flatMap(({ code }) => visitsOfCase(onFile, code));
  const total = visits.reduce((sum, { pictures }) => sum + pictures.length, 0);
  let done = 0;
  for (const visit of visits) {
    const folder = `visits/${visit.document.visit.date ?? 'no date'} ${visit.id}`;
    const sidecar = sidecars.get(visit.id);
    if (sidecar) await put(`${folder}/visit.yaml`, sidecar);
    const written = new Set<string>();
    for (const { source, sha256, extension } of visit.pictures) {
      done += 1;
      ports.progress(done, total, 'copying originals');
      if (written.has(`${source} ${sha256}`)) continue;
      written.add(`${source} ${sha256}`);
      const bytes = orTrouble(await readPicture(practice, originalPath(practice, sha256, extension)));
      await put(`${folder}/${source}`, bytes);
    }
  }
}

/** cases/<CODE>/ with its pictures and sheets, cover slips, and what lies in the outbox. */
async function putCases(practice: Practice, patient: PatientEntry, put: Put): Promise<void> {
  const { paths } = practice;
  const { cases } = orTrouble(await loadCodes(practice));
  for (const { code } of patient.cases) {
    await putTree(join(paths.cases, code), `cases/${code}`, put);
    for (const shareCode of Object.values(cases[code] ?? {})) {
      await putTree(join(paths.outbox, shareCode), `outbox/${shareCode}`, put);
      const slip = `${shareCode}-cover-slip.pdf`;
      const paper = orTrouble(await readPaper(practice, join(paths.records, slip)));
      if (paper) await put(`cover slips/${slip}`, paper);
    }
  }
}

async function putTree(folder: string, name: string, put: Put): Promise<void> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  for (const entry of entries.filter((one) => one.isFile())) {
    const path = join(entry.parentPath, entry.name);
    await put(`${name}${path.slice(folder.length)}`, await readFile(path));
  }
}
