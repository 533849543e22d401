import { randomBytes } from 'node:crypto';
import { access } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { setTimeout as sleep } from 'node:timers/promises';
import {
  findPractice,
  isLocked,
  isProtectedAsOpened,
  openPractice,
  type Practice,
  withLock,
} from '../practice/index.js';
import { loadFonts, openWorkers } from '../workers/index.js';
import type { Ports } from './ports.js';
import type { ErrorReport } from './report.js';
import { orTrouble, Trouble } from './trouble.js';
import { type KeySource, unlock } from './unlock.js';

/** Where to look for the practice: an explicit folder, the environment, the folder the command runs in. */
export interface Where {
  explicit?: string | undefined;
  env: Record<string, string | undefined>;
  cwd: string;
  /** Where the key of an encrypted practice may come from; absent leaves it locked. */
  key?: KeySource | undefined;
}

export type FoundSession =
  | {
      ok: true;
      practice: Practice /** What went wrong with the key that was given; null mostly. */;
      keySentence: string | null;
    }
  | { ok: false; sentence: string; errors: ErrorReport[] };

export async function openSession(where: Where): Promise<FoundSession> {
  const found = await findPractice(where);
  if (!found.ok) return { ok: false, sentence: found.sentence, errors: [] };
  const opened = await openPractice(found.root);
  if (opened.ok) {
    const { practice, sentence } = await unlock(opened.practice, where.key ?? {});
    return { ok: true, practice, keySentence: sentence };
  }
  return { ok: false, sentence: 'practice.yaml has mistakes; nothing was touched.', errors: opened.errors };
}

/** Two children keep the disk and both cores of a small machine busy; more only cost memory. */
const MOST_WORKERS = 2;

/** The real world. `close` ends the worker processes. */
export function openPorts(
  progress: Ports['progress'],
  workersAtOnce = defaultWorkers(),
): Ports & { close(): Promise<void> } {
  const workers = openWorkers({ size: workersAtOnce });
  let fonts: ReturnType<typeof loadFonts> | null = null;
  return {
    random: (count) => randomBytes(count),
    now: () => new Date(),
    steadyMs: () => performance.now(),
    sleep: async (ms) => {
      await sleep(ms);
    },
    workers,
    workersAtOnce,
    fonts: () => {
      fonts ??= loadFonts();
      return fonts;
    },
    progress,
    close: () => workers.close(),
  };
}

const defaultWorkers = (): number => Math.max(1, Math.min(MOST_WORKERS, availableParallelism()));

/** An erasure that a kill cut short is ended by the next command that writes and has the key. */
async function endErasure(practice: Practice): Promise<void> {
  const isThere = await access(practice.paths.erasing).then(
    () => true,
    () => false,
  );
  if (!isThere || isLocked(practice)) return;
  const { resumeErasure } = await import('./patients/erase/index.js');
  await resumeErasure(practice, { now: () => new Date() });
}

/** How long a command waits for another one at work in the same practice before it says who that is. */
const LOCK_WAIT_MS = 10_000;

/** Runs a flow as the practice's only writer. */
export async function asOnlyWriter<T>(practice: Practice, what: string, work: () => Promise<T>): Promise<T> {
  const guarded = async (): Promise<T> => {
    // Written as it was opened, a record would lie in clear among encrypted ones.
    if (!orTrouble(await isProtectedAsOpened(practice))) throw new Trouble({ code: 'protection-changed' });
    await endErasure(practice);
    return work();
  };
  return orTrouble(await withLock(practice, what, guarded, { waitMs: LOCK_WAIT_MS }));
}
