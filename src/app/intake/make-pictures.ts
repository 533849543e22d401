import { createHmac } from 'node:crypto';
import { join } from 'node:path';
import type { Outcome } from '../../core/outcome.js';
import { type Practice, readSecret, storeStripped } from '../../practice/index.js';
import type { ShownPicture } from '../../stages/record/index.js';
import type { Made } from '../../workers/index.js';
import { inParallel } from '../in-parallel.js';
import { strippedExtension } from '../stripped-extension.js';
import { orTrouble, Trouble } from '../trouble.js';
import { type Decision, decidePicture } from './decide-picture.js';
import { FINDERS } from './finder-versions.js';
import type { MadePicture, Making, ToMake } from './making.js';
import { type Searches, wishOf } from './search-pictures.js';
import { alreadyMade, type Wish } from './sort-pictures.js';

/** A display picture without covers, waiting in private/tmp. */
export interface Uncovered {
  made: Outcome<Made>;
  waitsAt: string | null;
}

/** By `wishKey`. */
export type UncoveredPictures = Map<string, Uncovered>;

/** Strips, checks and renders each picture in a worker, nothing covered yet; what is on file is left out. */
export async function makeUncovered(
  making: Making,
  fates: readonly ToMake[],
  into: UncoveredPictures,
): Promise<void> {
  const wanted = fates.filter((fate) => {
    const { wish, key } = wishOf(making.practice, fate);
    return !into.has(key) && !alreadyMade(making.earlier, fate.candidate.file.sha256 as string, wish);
  });
  let done = 0;
  // One more than there are workers: while one picture is put on the disk the next is already being made.
  await inParallel(wanted, making.ports.workersAtOnce + 1, async (fate) => {
    const { wish, key } = wishOf(making.practice, fate);
    into.set(key, await render(making, fate, wish, key, []));
    done += 1;
    making.ports.progress(done, wanted.length, 'preparing pictures');
  });
}

/**
 * What becomes of each searched picture: held, on file as it is, or made with its covers painted in. One bad picture
 * never stops the others.
 */
export async function makePictures(
  making: Making,
  fates: readonly ToMake[],
  uncovered: UncoveredPictures,
  searches: Searches,
): Promise<MadePicture[]> {
  return inParallel(fates, making.ports.workersAtOnce + 1, (fate) =>
    settleOne(making, fate, uncovered, searches),
  );
}

async function settleOne(
  making: Making,
  fate: ToMake,
  uncovered: UncoveredPictures,
  searches: Searches,
): Promise<MadePicture> {
  const { wish, key } = wishOf(making.practice, fate);
  const plain = uncovered.get(key);
  if (plain && plain.made.kind !== 'kept') {
    return { kind: plain.made.kind, fate, reason: plain.made.reason };
  }
  const searched = searches.get(key);
  if (!searched) return { kind: 'held', fate, reason: { code: 'not-searched', what: 'text' } };
  if (searched.kind !== 'kept') return { kind: searched.kind, fate, reason: searched.reason };
  const decided = decidePicture(making, fate, searched.value);
  if (!decided.ok) return { kind: 'held', fate, reason: decided.reason };
  const earlier = alreadyMade(making.earlier, fate.candidate.file.sha256 as string, wish);
  if (earlier?.shown && earlier.number !== null && isShownSo(earlier.shown, decided.decision)) {
    const shown = { ...earlier.shown, look: decided.decision.look, searched: FINDERS };
    return { kind: 'on-file', fate, shown, number: earlier.number };
  }
  const { covers } = decided.decision;
  const final = plain && covers.length === 0 ? plain : await render(making, fate, wish, key, covers);
  // Filing moves it to its place, so the same picture in another document of this drop is made once more.
  uncovered.delete(key);
  return asMade(fate, wish, final, decided.decision);
}

const isShownSo = (shown: ShownPicture, { covers, audiences }: Decision): boolean =>
  JSON.stringify([shown.covers ?? [], shown.audiences ?? null]) === JSON.stringify([covers, audiences]);

function asMade(
  fate: ToMake,
  wish: Wish,
  { made, waitsAt }: Uncovered,
  { covers, look, audiences }: Decision,
): MadePicture {
  if (made.kind !== 'kept') return { kind: made.kind, fate, reason: made.reason };
  const { displaySha256, displayFormat, widthPx, heightPx, processing } = made.value;
  return {
    kind: 'made',
    fate,
    waitsAt,
    ext: displayFormat,
    shown: {
      sha256: displaySha256,
      widthPx,
      heightPx,
      radiograph: wish.radiograph,
      flipped: wish.flip,
      processing,
      covers,
      look,
      searched: FINDERS,
      ...(audiences ? { audiences } : {}),
      ...(wish.frame > 1 ? { frame: wish.frame } : {}),
    },
  };
}

async function render(
  making: Making,
  fate: ToMake,
  wish: Wish,
  key: string,
  covers: Decision['covers'],
): Promise<Uncovered> {
  const { practice, ports } = making;
  const { sha256, path } = fate.candidate.file;
  const name = covers.length === 0 ? key : `${key}-covered`;
  const waiting = (what: string): string => join(practice.paths.tmp, `${name}-${what}`);
  const into = making.write ? { display: waiting('display'), stripped: waiting('stripped') } : null;
  const made = await ports.workers.make({
    path: path as string,
    facts: fate.facts,
    ...wish,
    covers: covers.map(({ box }) => box),
    ...(fate.facts.format === 'DICOM' ? { uidKey: await uidKeyOf(practice) } : {}),
    into,
  });
  if (made.kind === 'kept' && into) {
    const ext = strippedExtension(fate.facts, wish.frame);
    orTrouble(await storeStripped(practice, into.stripped, sha256 as string, ext));
  }
  return { made, waitsAt: into?.display ?? null };
}

/** The key of the map from source UIDs to new ones: one for all of a practice, so that references hold across batches. */
async function uidKeyOf(practice: Practice): Promise<string> {
  const secret = orTrouble(await readSecret(practice.paths));
  if (!secret) throw new Trouble({ code: 'ledger-damaged', file: 'secret', line: null });
  return createHmac('sha256', secret).update('dicom-uid').digest('hex');
}
