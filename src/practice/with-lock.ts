import { randomBytes } from 'node:crypto';
import { setTimeout as sleepFor } from 'node:timers/promises';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { diskReason } from './disk-reason.js';
import { type LockTry, releaseLock, tidyLock, tryLock } from './lock-file.js';
import { describeSelf, type LockHolder } from './lock-holder.js';
import type { Practice } from './practice-paths.js';
import { sweepLeftovers } from './sweep-leftovers.js';

export interface LockOptions {
  /** How long to wait for another command to finish; 0: not at all. */
  waitMs?: number;
  sleep?: (ms: number) => Promise<unknown>;
  /** Steady clock in milliseconds. */
  steadyMs?: () => number;
  /** Wall clock, only to tell others since when. */
  now?: () => Date;
}

const LOOK_AGAIN_MS = 100;

/**
 * Runs `work` as the practice's only writer. Someone else at work: waits up to `waitMs`, then `practice-busy` with
 * who and since when. A lock left by a killed run is taken over and what it left half-written is swept away. Not
 * re-entrant. Commands that only read need no lock. What `work` throws goes on to the caller, lock given back.
 * @param what what is being done, in words: "intake"
 */
export async function withLock<T>(
  practice: Practice,
  what: string,
  work: () => Promise<T>,
  options: LockOptions = {},
): Promise<Outcome<T>> {
  const path = practice.paths.lock;
  const now = options.now ?? (() => new Date());
  const self = await describeSelf(what, randomBytes(12).toString('hex'), now());
  const got = await waitForLock(path, self, options);
  if (got.kind !== 'kept') return got;
  try {
    try {
      await tidyLock(path, self);
      if (got.value.tookOver) await sweepLeftovers(practice);
    } catch (error) {
      return failed(diskReason(error));
    }
    return kept(await work());
  } finally {
    await releaseLock(path, self).catch(() => undefined);
  }
}

async function waitForLock(
  path: string,
  self: LockHolder,
  options: LockOptions,
): Promise<Outcome<{ tookOver: boolean }>> {
  const { waitMs = 0, sleep = sleepFor, steadyMs = () => performance.now() } = options;
  const startMs = steadyMs();
  try {
    for (let tries = 0; ; tries += 1) {
      const answer: LockTry = await tryLock(path, self);
      if (answer.kind === 'got') return kept({ tookOver: answer.tookOver });
      const isOver = steadyMs() - startMs >= waitMs;
      if (answer.kind === 'busy' && isOver) {
        const { what, pid, host, since } = answer.holder;
        return failed({ code: 'practice-busy', what, pid, host, since });
      }
      // A takeover by another is a matter of milliseconds; should it hang, its holder shows as busy or dead.
      if (tries > 1000 && isOver)
        return failed({ code: 'disk', what: 'the lock of the practice keeps changing' });
      await sleep(answer.kind === 'busy' ? LOOK_AGAIN_MS : 5);
    }
  } catch (error) {
    return failed(diskReason(error));
  }
}
