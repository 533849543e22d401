import { join } from 'node:path';
import type { Reason } from '../../core/reasons.js';
import { type Practice, storeStripped } from '../../practice/index.js';
import type { ShownPicture } from '../../stages/record/index.js';
import { inParallel } from '../in-parallel.js';
import type { StoredVisit } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { alreadyMade, correctedSources, type Fate, type Wish, wishFor } from './sort-pictures.js';

type ToMake = Extract<Fate, { kind: 'make' }>;

/** A display picture that waits in private/tmp for its visit to be filed, or is on file already. */
export type MadePicture =
  | {
      kind: 'made';
      fate: ToMake;
      waitsAt: string | null;
      shown: Omit<ShownPicture, 'file'>;
      ext: 'png' | 'jpg';
    }
  | { kind: 'on-file'; fate: ToMake; shown: ShownPicture; number: number }
  | { kind: 'held' | 'failed'; fate: ToMake; reason: Reason };

/** The context in which pictures of one visit are made. */
export interface Making {
  practice: Practice;
  ports: Ports;
  /** False writes nothing, for `check`. */
  write: boolean;
  /** The visit on file that this drop revises. */
  earlier: StoredVisit | null;
}

/** Strips, checks and renders each picture in a worker. One bad picture never stops the others. */
export async function makePictures(making: Making, fates: readonly ToMake[]): Promise<MadePicture[]> {
  let done = 0;
  // One more than there are workers: while one picture is put on the disk the next is already being made.
  return inParallel(fates, making.ports.workersAtOnce + 1, async (fate) => {
    const made = await makeOne(making, fate);
    done += 1;
    making.ports.progress(done, fates.length, 'preparing pictures');
    return made;
  });
}

async function makeOne(making: Making, fate: ToMake): Promise<MadePicture> {
  const { practice } = making;
  const { file } = fate.candidate;
  const wish = wishFor(fate.entry, fate.facts, file.name, correctedSources(practice));
  const earlier = alreadyMade(making.earlier, file.sha256 as string, wish);
  if (earlier?.shown && earlier.number !== null) {
    return { kind: 'on-file', fate, shown: earlier.shown, number: earlier.number };
  }
  return render(making, fate, wish);
}

async function render(making: Making, fate: ToMake, wish: Wish): Promise<MadePicture> {
  const { practice, ports } = making;
  const { sha256, path, extension } = fate.candidate.file;
  const waiting = (what: string): string =>
    join(practice.paths.tmp, `${sha256}-${wish.radiograph ? 'r' : 'c'}${wish.flip ? 'f' : 'd'}-${what}`);
  const into = making.write ? { display: waiting('display'), stripped: waiting('stripped') } : null;
  const made = await ports.workers.make({ path: path as string, facts: fate.facts, ...wish, into });
  if (made.kind !== 'kept') return { kind: made.kind, fate, reason: made.reason };
  if (into) orTrouble(await storeStripped(practice, into.stripped, sha256 as string, extension));
  const { displaySha256, displayFormat, widthPx, heightPx, processing } = made.value;
  return {
    kind: 'made',
    fate,
    waitsAt: into?.display ?? null,
    ext: displayFormat,
    shown: {
      sha256: displaySha256,
      widthPx,
      heightPx,
      radiograph: wish.radiograph,
      flipped: wish.flip,
      processing,
    },
  };
}
