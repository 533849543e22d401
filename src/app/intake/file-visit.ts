import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { drawCode } from '../../core/code.js';
import {
  addCase,
  addVisit,
  appendJournal,
  type PatientEntry,
  type Practice,
  placeFile,
  readJournal,
  savePatients,
  saveVisit,
  writeOpenly,
} from '../../practice/index.js';
import type { FiledPicture, ShownPicture } from '../../stages/record/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import type { OnFile, StoredVisit } from '../on-file.js';
import { visitsOfCase } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import type { AbsentPicture } from './candidates.js';
import type { Belonging } from './find-case.js';
import type { MadePicture } from './make-pictures.js';
import type { Fate } from './sort-pictures.js';

/** All that is known of one document's visit, ready to be put on file. */
export interface ReadyVisit {
  belonging: Belonging;
  document: VisitDocument;
  errors: StoredVisit['errors'];
  folder: string;
  sidecar: Uint8Array;
  fates: Fate[];
  absent: AbsentPicture[];
  made: MadePicture[];
  /** Of the earlier revision, and no concern of this one. */
  left: FiledPicture[];
}

export interface Filed {
  code: string;
  visit: StoredVisit;
}

/** The number of the case's next picture: numbers are never used twice, whatever became of their pictures. */
export function nextNumber(onFile: OnFile, code: string | null): number {
  const visits = code === null ? [] : visitsOfCase(onFile, code);
  const used = visits.flatMap((visit) => visit.pictures.map((picture) => picture.number ?? 0));
  return Math.max(0, ...used) + 1;
}

/** "images/03-access.jpg": order of filing and stage, nothing else. */
export const imageName = (number: number, stage: string, ext: string): string =>
  `images/${String(number).padStart(2, '0')}-${stage}.${ext}`;

/**
 * Every picture of the visit as it goes on file, numbers given. A picture of an earlier revision that this sidecar no
 * longer names keeps its number and its original; it only stands on no sheet.
 */
export function filedPictures(ready: ReadyVisit, firstNumber: number): FiledPicture[] {
  const madeBy = new Map(ready.made.map((one) => [one.fate.candidate, one]));
  let next = firstNumber;
  const filed = ready.fates.flatMap((fate): FiledPicture[] => {
    const { file, facts, entry } = fate.candidate;
    if (file.sha256 === null) return [];
    const earlier = ready.belonging.visit?.pictures.find((picture) => picture.sha256 === file.sha256);
    const base = {
      source: file.name,
      sha256: file.sha256,
      extension: file.extension,
      facts,
      entry,
      reason: null,
      duplicateOf: null,
      number: earlier?.number ?? null,
      shown: null,
    };
    if (fate.kind === 'held') return [{ ...base, status: 'held', reason: fate.reason }];
    if (fate.kind === 'duplicate')
      return [{ ...base, number: null, status: 'duplicate', duplicateOf: fate.of }];
    if (fate.kind === 'unlabelled')
      return [{ ...base, status: 'unlabelled', reason: { code: 'unlabelled' } }];
    const made = madeBy.get(fate.candidate) as MadePicture;
    if ('reason' in made) return [{ ...base, status: made.kind, reason: made.reason }];
    const number = made.kind === 'on-file' ? made.number : (earlier?.number ?? next++);
    const ext = made.kind === 'made' ? made.ext : extOf(made.shown);
    const shown = { ...made.shown, file: imageName(number, fate.entry.stage, ext) };
    return [{ ...base, status: 'kept', number, shown }];
  });
  return [...filed, ...ready.left];
}

const extOf = (shown: ShownPicture): string => shown.file.split('.').at(-1) as string;

/**
 * Puts the visit on file, in an order that a kill at any point leaves whole: first the journal says which code and id
 * this drop was given, so that a second try takes the same; then the pictures, then the accepted sidecar with its
 * pictures, last the entry that makes the visit count.
 */
export async function fileVisit(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  ready: ReadyVisit,
): Promise<Filed> {
  const { belonging, document } = ready;
  const { code, id } = await begin(practice, ports, onFile, ready);
  const visit: StoredVisit = {
    id,
    revision: (belonging.visit?.revision ?? 0) + 1,
    document,
    pictures: filedPictures(ready, nextNumber(onFile, belonging.code)),
    errors: ready.errors,
    unread: unreadOf(ready),
    folder: ready.folder,
    whole: true,
  };
  await placePictures(practice, code, ready, visit.pictures);
  const { id: _, whole: __, ...rest } = visit;
  orTrouble(await saveVisit(practice, id, { sidecar: ready.sidecar, pictures: rest }));
  orTrouble(await savePatients(practice, entered(onFile, belonging.patient, document, code, visit)));
  return { code, visit };
}

function unreadOf({ fates, absent }: ReadyVisit): StoredVisit['unread'] {
  const unread = fates.flatMap((fate) =>
    fate.kind === 'held' && fate.candidate.file.sha256 === null
      ? [{ source: fate.candidate.file.name, reason: fate.reason }]
      : [],
  );
  const missing = absent.map(({ file, line }) => ({
    source: file,
    reason: { code: 'listed-absent' as const, line },
  }));
  return [...unread, ...missing];
}

/** The code and visit id of this drop: those on file, those an interrupted try was given, or new ones. */
async function begin(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  ready: ReadyVisit,
): Promise<{ code: string; id: string }> {
  const { belonging } = ready;
  if (belonging.code && belonging.visit) return { code: belonging.code, id: belonging.visit.id };
  const drop = digestOf(ready);
  const begun = orTrouble(await readJournal(practice)).findLast(
    (entry) => entry['kind'] === 'begun' && entry['drop'] === drop && !isFiled(onFile, entry['visit']),
  );
  if (begun && (belonging.code === null || belonging.code === begun['code'])) {
    return { code: begun['code'] as string, id: begun['visit'] as string };
  }
  const code = belonging.code ?? drawUnusedCode(onFile, ports);
  const id = drawCode(ports.random, 10);
  orTrouble(
    await appendJournal(practice, { kind: 'begun', at: ports.now().toISOString(), drop, code, visit: id }),
  );
  return { code, id };
}

/** A visit on file is nobody's interrupted try: two strangers without number, name or picture look the same. */
const isFiled = ({ book }: OnFile, id: unknown): boolean =>
  book.patients.some((patient) => patient.cases.some((one) => one.visits.some((visit) => visit.id === id)));

/** Names a drop by what it holds: its pictures, its tooth and its patient's number. Private. */
function digestOf({ fates, document }: ReadyVisit): string {
  const pictures = fates.map((fate) => fate.candidate.file.sha256 ?? '').sort();
  const key = JSON.stringify([pictures, document.tooth, document.patient, document.visit.date]);
  return createHash('sha256').update(key).digest('hex');
}

/** Case codes are derived from nothing, so a collision is only luck, but luck that would join two patients. */
function drawUnusedCode(onFile: OnFile, ports: Ports): string {
  const used = new Set(onFile.book.patients.flatMap((patient) => patient.cases.map((one) => one.code)));
  for (;;) {
    const code = drawCode(ports.random);
    if (!used.has(code)) return code;
  }
}

async function placePictures(
  practice: Practice,
  code: string,
  ready: ReadyVisit,
  pictures: readonly FiledPicture[],
): Promise<void> {
  const folder = join(practice.paths.cases, code);
  for (const made of ready.made) {
    const file = pictures.find((one) => one.source === made.fate.candidate.file.name)?.shown?.file;
    if (file === undefined) continue;
    if (made.kind === 'made') {
      orTrouble(await placeFile(made.waitsAt as string, join(folder, file)));
    } else if (made.kind === 'on-file' && made.shown.file !== file) {
      // A copy, not a move: until the new revision counts, the old one must still find its picture.
      const bytes = await readFile(join(folder, made.shown.file));
      orTrouble(await writeOpenly(join(folder, file), bytes));
    }
  }
}

function entered(
  onFile: OnFile,
  patient: PatientEntry | null,
  document: VisitDocument,
  code: string,
  visit: StoredVisit,
) {
  const { book, at } = addCase(
    onFile.book,
    patient,
    { ...document.patient },
    { code, tooth: document.tooth },
  );
  return addVisit(book, at, code, {
    id: visit.id,
    date: document.visit.date,
    course: document.treatment.course,
    revision: visit.revision,
  });
}
