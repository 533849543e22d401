import type { Reason } from '../core/reasons.js';
import {
  listVisits,
  loadPatients,
  type PatientBook,
  type PatientEntry,
  type Practice,
} from '../practice/index.js';
import type { FiledPicture, FiledVisit } from '../stages/record/index.js';
import type { ToothRef } from '../trade/tooth-ref.js';
import { orTrouble } from './trouble.js';

/** Everything the practice holds, read once per command. */
export interface OnFile {
  book: PatientBook;
  visits: ReadonlyMap<string, StoredVisit>;
  /** Where each original stands, by SHA-256 of its bytes. */
  places: ReadonlyMap<string, Place[]>;
}

export interface StoredVisit extends FiledVisit {
  /** Sentences about entries, keys and captions that are held, as the sidecar's reading gave them. */
  errors: { file: string; line: number; column: number; field: string; sentence: string }[];
  /** What could not even be read, or was listed and absent: there is nothing of it to keep. */
  unread: { source: string; reason: Reason }[];
  /** Name of the dropped folder; private. */
  folder: string;
  /** False when a kill came between its sidecar and its pictures: to be filed again. */
  whole: boolean;
}

export interface Place {
  patient: PatientEntry;
  code: string;
  visit: StoredVisit;
  picture: FiledPicture;
}

export async function readOnFile(practice: Practice): Promise<OnFile> {
  const book = orTrouble(await loadPatients(practice));
  const visits = new Map<string, StoredVisit>();
  for (const stored of orTrouble(await listVisits(practice))) {
    visits.set(stored.id, {
      ...(stored.pictures as Omit<StoredVisit, 'id' | 'whole'>),
      id: stored.id,
      whole: stored.matches,
    });
  }
  const places = new Map<string, Place[]>();
  for (const patient of book.patients) {
    for (const one of patient.cases) {
      for (const { id } of one.visits) {
        const visit = visits.get(id);
        for (const picture of visit?.pictures ?? []) {
          if (picture.status === 'duplicate') continue;
          const place = { patient, code: one.code, visit: visit as StoredVisit, picture };
          places.set(picture.sha256, [...(places.get(picture.sha256) ?? []), place]);
        }
      }
    }
  }
  return { book, visits, places };
}

/** The visits of one case, in the order they were filed. */
export function visitsOfCase(onFile: OnFile, code: string): StoredVisit[] {
  const one = onFile.book.patients.flatMap((patient) => patient.cases).find((found) => found.code === code);
  return (one?.visits ?? []).flatMap(({ id }) => onFile.visits.get(id) ?? []);
}

/** The case a code names: whose it is and which tooth; null when the code is unknown. */
export function caseOf(onFile: OnFile, code: string): { patient: PatientEntry; tooth: ToothRef } | null {
  for (const patient of onFile.book.patients) {
    const one = patient.cases.find((found) => found.code === code);
    if (one) return { patient, tooth: one.tooth as ToothRef };
  }
  return null;
}

export const sameTooth = (a: ToothRef, b: ToothRef): boolean =>
  'fdi' in a ? 'fdi' in b && a.fdi === b.fdi : 'supernumerary' in b && a.supernumerary === b.supernumerary;

/** Every case code in use. */
export const caseCodes = ({ book }: OnFile): string[] =>
  book.patients.flatMap((patient) => patient.cases.map((one) => one.code));
