import { sentenceOf } from '../core/reason-sentence.js';
import { listHeld, type Practice } from '../practice/index.js';
import type { HeldVisit } from './intake/hold-drop.js';
import { type OnFile, readOnFile, type StoredVisit } from './on-file.js';
import type { ErrorReport } from './report.js';
import { orTrouble } from './trouble.js';

/** Something a person must look at, with its reason and next step. */
export interface HeldItem {
  /** Folder name of the visit. */
  visit: string;
  case: string | null;
  what: 'visit' | 'picture' | 'entry';
  /** A picture's name, or the place of a sidecar entry; null for a whole visit. */
  name: string | null;
  code: string;
  sentence: string;
}

/** Everything that is held: whole visits first, then pictures and sidecar entries of visits on file. */
export async function listHeldItems(practice: Practice): Promise<HeldItem[]> {
  const drops = orTrouble(await listHeld(practice));
  const onFile = await readOnFile(practice);
  const inCases = visitsWithCodes(onFile).flatMap(({ code, visit }) => heldInVisit(code, visit));
  return [...drops.flatMap(({ hold }) => heldVisit(hold as unknown as HeldVisit)), ...inCases];
}

function heldVisit({ folder, reason, errors }: HeldVisit): HeldItem[] {
  const whole: HeldItem = {
    visit: folder,
    case: null,
    what: 'visit',
    name: null,
    code: reason.code,
    sentence: sentenceOf(reason),
  };
  return [whole, ...errors.map((error) => heldEntry(folder, null, error))];
}

const heldEntry = (visit: string, code: string | null, error: ErrorReport): HeldItem => ({
  visit,
  case: code,
  what: 'entry',
  name: [`${error.file}:${error.line}:${error.column}`, error.field].filter(Boolean).join(': '),
  code: 'sidecar',
  sentence: error.sentence,
});

/** What of one visit on file waits for a person. */
export function heldInVisit(code: string, visit: StoredVisit): HeldItem[] {
  const filed = visit.pictures.filter(({ status }) => status !== 'kept' && status !== 'duplicate');
  const pictures = [...filed, ...visit.unread].flatMap(({ source, reason }): HeldItem[] => {
    if (!reason) return [];
    const told = { name: source, code: reason.code, sentence: sentenceOf(reason) };
    return [{ visit: visit.folder, case: code, what: 'picture', ...told }];
  });
  return [...pictures, ...visit.errors.map((error) => heldEntry(visit.folder, code, error))];
}

function visitsWithCodes(onFile: OnFile): { code: string; visit: StoredVisit }[] {
  return onFile.book.patients.flatMap((patient) =>
    patient.cases.flatMap(({ code, visits }) =>
      visits.flatMap(({ id }) => {
        const visit = onFile.visits.get(id);
        return visit ? [{ code, visit }] : [];
      }),
    ),
  );
}
