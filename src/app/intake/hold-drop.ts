import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import type { Reason } from '../../core/reasons.js';
import { appendJournal, listHeld, type Practice, saveHeld, settleHeld } from '../../practice/index.js';
import type { Ports } from '../ports.js';
import { type ErrorReport, reported, unmade, type VisitReport } from '../report.js';
import { orTrouble } from '../trouble.js';
import type { Drop } from './drop.js';

/** What lies in private/held: a whole visit that a person must look at, until a later drop of its folder settles it. */
export interface HeldVisit {
  folder: string;
  status: 'held' | 'refused';
  reason: Reason;
  errors: ErrorReport[];
  pictures: { source: string; sha256: string | null; extension: string }[];
  /** Codes of the cases that its sidecar speaks of, as far as they are on file. */
  cases?: string[];
  /** Wall clock, for the person who looks. */
  when: string;
}

/** One hold for a folder's place, since a folder dropped there again replaces or settles what was said of it. */
const heldId = (folder: string): string =>
  createHash('sha256').update(resolve(folder).normalize('NFC')).digest('hex').slice(0, 20);

/**
 * Takes off the list what this drop has settled: what was said of its folder before, and every hold whose pictures
 * all lie in it, since a visit is often put right under another folder name. A folder of the same name that has none of
 * the held pictures is another visit, and settles nothing.
 */
export async function settleHolds(practice: Practice, drop: Drop): Promise<void> {
  const own = heldId(drop.folder);
  const taken = new Set(drop.files.map((file) => file.sha256));
  for (const { id, hold } of orTrouble(await listHeld(practice))) {
    const { pictures } = hold as unknown as HeldVisit;
    const isAllTaken = pictures.length > 0 && pictures.every(({ sha256 }) => sha256 && taken.has(sha256));
    const read = pictures.flatMap(({ sha256 }) => sha256 ?? []);
    const isOwn = id === own && (read.length === 0 || read.some((sha256) => taken.has(sha256)));
    if (isOwn || isAllTaken) orTrouble(await settleHeld(practice, id));
  }
}

/** Nothing is made of the drop: its originals are safe, the reason is written down, and the report says what to do. */
export async function holdDrop(
  practice: Practice,
  drop: Drop,
  ports: Ports,
  reason: Reason,
  errors: ErrorReport[],
  options: { write: boolean; cases?: string[] },
): Promise<VisitReport> {
  const status = reason.code === 'sidecar-refused' ? 'refused' : 'held';
  // What is said of an erased patient's folder is only said: its name may be the patient's.
  if (options.write && reason.code !== 'erased') {
    const when = ports.now().toISOString();
    const pictures = drop.files.map(({ name, sha256, extension }) => ({ source: name, sha256, extension }));
    const hold: HeldVisit = {
      folder: drop.name,
      status,
      reason,
      errors,
      pictures,
      cases: options.cases ?? [],
      when,
    };
    orTrouble(await saveHeld(practice, heldId(drop.folder), hold));
    orTrouble(
      await appendJournal(practice, { kind: status, at: when, folder: drop.name, reason: reason.code }),
    );
  }
  return {
    visit: drop.name,
    case: null,
    status,
    revision: 0,
    reason: reported(reason),
    pictures: drop.files.map((file) => unmade(file.name, file.sha256, file.reason ?? reason)),
    findings: [],
    errors,
    sheets: [],
  };
}
