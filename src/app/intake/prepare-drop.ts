import type { Reason } from '../../core/reasons.js';
import { guardTexts } from '../../stages/guard/index.js';
import type { DropContext } from './candidates.js';
import { drawDraftSheet } from './draft-sheet.js';
import { makeUncovered, type UncoveredPictures } from './make-pictures.js';
import { planDocument, stillArriving } from './plan-document.js';
import { knownSearches, type Searches, searchPictures, wishOf } from './search-pictures.js';

/** All pictures of a drop, made without covers and searched, for every document of its sidecar. */
export interface PreparedDrop {
  uncovered: UncoveredPictures;
  searches: Searches;
  /** Some pictures show another patient's name or number. */
  reason: Reason | null;
}

/**
 * Makes and searches every picture before anything is filed, since a stranger's name in one picture holds the whole
 * drop. A draft sheet of what was made comes first: searching takes longer than making.
 */
export async function prepareDrop(context: DropContext): Promise<PreparedDrop> {
  const uncovered: UncoveredPictures = new Map();
  const searches: Searches = new Map();
  const seen: Parameters<typeof guardTexts>[0]['pictures'] = [];
  for (const at of context.documents.keys()) {
    const plan = planDocument(context, at);
    if (plan.kind === 'answered') continue;
    const { making, toMake, fates } = plan;
    for (const [key, known] of await knownSearches(making.practice, toMake)) searches.set(key, known);
    const unsearched = toMake.filter((fate) => !searches.has(wishOf(making.practice, fate).key));
    await makeUncovered(making, unsearched, uncovered);
    if (stillArriving(fates, uncovered, making).length > 0 && context.options.waits && context.options.write)
      continue;
    const good = unsearched.filter((fate) => isMade(uncovered, wishOf(making.practice, fate).key));
    if (context.options.write && good.length > 0) await drawDraftSheet(context, at, plan, uncovered);
    await searchPictures(making, good, searches);
    for (const fate of toMake) {
      const searched = searches.get(wishOf(making.practice, fate).key);
      if (searched?.kind === 'kept')
        seen.push({ name: fate.candidate.file.name, texts: searched.value.texts });
    }
  }
  return { uncovered, searches, reason: guardSeen(context, seen) };
}

/** A picture on file already is searched again from its original; one that could not be made is not. */
const isMade = (uncovered: UncoveredPictures, key: string): boolean =>
  (uncovered.get(key)?.made.kind ?? 'kept') === 'kept';

function guardSeen(
  { documents, person }: DropContext,
  pictures: Parameters<typeof guardTexts>[0]['pictures'],
): Reason | null {
  const answers = documents.flatMap((one) => one.document.answers);
  return guardTexts({ patient: person, pictures, answers });
}
