import { held, kept, type Outcome } from '../../core/outcome.js';
import { loadFound, type Practice, saveFound } from '../../practice/index.js';
import type { Searched } from '../../workers/index.js';
import { inParallel } from '../in-parallel.js';
import { orTrouble } from '../trouble.js';
import { FINDERS } from './finder-versions.js';
import type { Making, ToMake } from './making.js';
import { correctedSources, type Wish, wishFor, wishKey } from './sort-pictures.js';

/** What the finders saw, by `wishKey`. A picture whose search did not end is held. */
export type Searches = Map<string, Outcome<Searched>>;

/** How each picture is to be shown, and the key of that. */
export function wishOf(practice: Practice, fate: ToMake): { wish: Wish; key: string } {
  const { file } = fate.candidate;
  const wish = wishFor(fate.entry, fate.facts, file.name, correctedSources(practice));
  return { wish, key: wishKey(file.sha256 as string, wish) };
}

/** What is known already of these pictures, from earlier searches with the same finders. */
export async function knownSearches(practice: Practice, fates: readonly ToMake[]): Promise<Searches> {
  const known: Searches = new Map();
  for (const fate of fates) {
    const { key } = wishOf(practice, fate);
    const found = orTrouble(await loadFound(practice, cacheKey(key)));
    if (found) known.set(key, kept(found as unknown as Searched));
  }
  return known;
}

/** Looks for text and faces in every picture that has not been searched; adds to `searches`. */
export async function searchPictures(
  making: Making,
  fates: readonly ToMake[],
  searches: Searches,
): Promise<void> {
  const wanted = new Map(fates.map((fate) => [wishOf(making.practice, fate).key, fate]));
  for (const key of searches.keys()) wanted.delete(key);
  let done = 0;
  // Two at a time: while one is looked at the next one is at hand.
  await inParallel([...wanted], 2, async ([key, fate]) => {
    searches.set(key, await searchOne(making, fate, key));
    done += 1;
    making.ports.progress(done, wanted.size, 'searching pictures for text and faces');
  });
}

async function searchOne(making: Making, fate: ToMake, key: string): Promise<Outcome<Searched>> {
  const { practice, ports, write } = making;
  const { wish } = wishOf(practice, fate);
  const { path } = fate.candidate.file;
  const searched = await ports.workers.search({ path: path as string, facts: fate.facts, ...wish });
  // Whatever stopped it (time, memory, a decoder): unsearched means unseen, and unseen means held.
  if (searched.kind === 'held') {
    const { reason } = searched;
    return held(reason.code === 'worker-died' ? { code: 'not-searched', what: 'text' } : reason);
  }
  if (searched.kind === 'kept' && write) {
    orTrouble(await saveFound(practice, cacheKey(key), { ...searched.value }));
  }
  return searched;
}

const cacheKey = (key: string): string => `${key} ${FINDERS}`;
