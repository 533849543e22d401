import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  addCase,
  addVisit,
  type PatientEntry,
  type Practice,
  placeFile,
  placePrivately,
  savePatients,
  saveVisit,
  writeOpenly,
} from '../../practice/index.js';
import type { FiledPicture } from '../../stages/record/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { displayPath } from '../display-path.js';
import type { OnFile, StoredVisit } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { beginFiling } from './begin-filing.js';
import { filedPictures, nextNumber, unreadOf } from './filed-pictures.js';
import type { ReadyVisit } from './ready-visit.js';

export interface Filed {
  code: string;
  visit: StoredVisit;
}

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
  const { code, id } = await beginFiling(practice, ports, onFile, ready);
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

async function placePictures(
  practice: Practice,
  code: string,
  ready: ReadyVisit,
  pictures: readonly FiledPicture[],
): Promise<void> {
  const folder = join(practice.paths.cases, code);
  for (const made of ready.made) {
    const shown = pictures.find((one) => one.source === made.fate.candidate.file.name)?.shown;
    if (!shown) continue;
    const { file } = shown;
    if (made.kind === 'made') {
      const place = displayPath(practice, code, { file, limitedTo: shown.audiences }, shown.sha256);
      const put = shown.audiences
        ? placePrivately(practice, made.waitsAt as string, place)
        : placeFile(made.waitsAt as string, place);
      orTrouble(await put);
    } else if (made.kind === 'on-file' && made.shown.file !== file && !shown.audiences) {
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
