import { sentenceOf } from '../../core/reason-sentence.js';
import { listHeld, type Practice } from '../../practice/index.js';
import { heldInVisit } from '../held.js';
import type { HeldVisit } from '../intake/hold-drop.js';
import { type OnFile, type StoredVisit, visitsOfCase } from '../on-file.js';
import { orTrouble } from '../trouble.js';

export interface HeldOfCase {
  /** Which picture, entry or visit, as the practice knows it. */
  what: string;
  sentence: string;
}

/** A picture that no line of the sidecar names stands on no sheet and waits for nothing but a line. */
const BLOCKS_NOTHING: readonly string[] = ['unlabelled', 'replaced'];

/** All of a case that waits for a person: pictures and entries of any of its visits, and held drops that speak of it. */
export async function heldOfCase(practice: Practice, onFile: OnFile, code: string): Promise<HeldOfCase[]> {
  const visits = visitsOfCase(onFile, code);
  const drops = orTrouble(await listHeld(practice)).map(({ hold }) => hold as unknown as HeldVisit);
  const whole = drops
    .filter((hold) => belongsTo(hold, code, visits))
    .map(({ folder, reason }) => ({ what: `The visit folder "${folder}"`, sentence: sentenceOf(reason) }));
  const parts = visits
    .flatMap((visit) => heldInVisit(code, visit))
    .filter((item) => !BLOCKS_NOTHING.includes(item.code))
    .map(({ visit, name, what, sentence }) => ({
      what: what === 'picture' ? `${name} of the visit "${visit}"` : `${name} (visit "${visit}")`,
      sentence,
    }));
  return [...whole, ...parts];
}

/**
 * A held drop is of this case when its sidecar said so, when it brings a picture of it, or when it is a sidecar alone in
 * the folder of one of its visits.
 */
function belongsTo(
  { cases = [], folder, pictures }: HeldVisit,
  code: string,
  visits: readonly StoredVisit[],
): boolean {
  const known = new Set(visits.flatMap((visit) => visit.pictures.map(({ sha256 }) => sha256)));
  const read = pictures.flatMap(({ sha256 }) => sha256 ?? []);
  const isAlone = read.length === 0 && visits.some((visit) => visit.folder === folder);
  return cases.includes(code) || read.some((sha256) => known.has(sha256)) || isAlone;
}
