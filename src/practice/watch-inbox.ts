import { setTimeout as sleepFor } from 'node:timers/promises';
import { openHints } from './inbox-hints.js';
import { InboxJudge } from './inbox-judge.js';
import type { InboxStatus } from './inbox-status.js';
import { type InboxScan, scanInbox } from './scan-inbox.js';
import type { FolderScan } from './scan-visit-folder.js';

export interface SteadyClock {
  /** Milliseconds of a clock that never jumps. */
  steadyMs(): number;
  /** Resolves early, or rejects, when the signal fires. */
  sleep(ms: number, signal?: AbortSignal): Promise<unknown>;
}

export const steadyClock: SteadyClock = {
  steadyMs: () => performance.now(),
  sleep: (ms, signal) => sleepFor(ms, undefined, signal === undefined ? {} : { signal }),
};

export interface WatchOptions {
  inbox: string;
  quietMs: number;
  scanEveryMs?: number;
  emptyFileMs?: number;
  /** Takes a folder in; awaited, one folder at a time. `lookAgainMs`: hand it out again then, changed or not. */
  onSettled: (folder: FolderScan) => Promise<undefined | { lookAgainMs: number }>;
  onStatus: (status: InboxStatus) => void;
  signal?: AbortSignal;
  clock?: SteadyClock;
  /** Whether to ask the system for hints; scans alone find everything, only later. */
  hints?: boolean;
  /** A single pass: returns once every folder that lies still has been handed out. What still changes is left. */
  once?: boolean;
  scan?: (inbox: string) => Promise<InboxScan>;
}

const SCAN_EVERY_MS = 2_000;
const LONGEST_PAUSE_MS = 60_000;
const AFTER_HINT_MS = 200;
const AFTER_FAILURE_MS = 60_000;
/** A scan that takes long (a full inbox, a slow share) is made less often: at most a fifth of the time goes into it. */
const PAUSE_PER_SCAN = 4;

/**
 * Watches the inbox until the signal fires. The scan is the truth: it sees everything, whatever events say or do not
 * say. The inbox is only ever read. A missing inbox is told and looked for, at growing intervals, and never ends it.
 */
export async function watchInbox(options: WatchOptions): Promise<void> {
  const { clock = steadyClock, signal = new AbortController().signal, scan = scanInbox } = options;
  const judge = new InboxJudge(options);
  const waker = makeWaker(clock, signal);
  const wantsHints = options.hints !== false && !options.once;
  const hints = wantsHints
    ? await openHints({
        inbox: options.inbox,
        onHint: waker.wake,
        onOff: (why) => options.onStatus({ kind: 'hints-off', why }),
        sleep: (ms, until) => clock.sleep(ms, until),
      })
    : null;
  const startMs = clock.steadyMs();
  try {
    for (let troubles = 0; !signal.aborted; ) {
      const beginMs = clock.steadyMs();
      const decision = judge.feed(beginMs, await scan(options.inbox));
      const scanMs = clock.steadyMs() - beginMs;
      troubles = decision.isTrouble ? troubles + 1 : 0;
      for (const status of decision.statuses) options.onStatus(status);
      if (decision.isNewInbox) await hints?.restart();
      for (const folder of decision.settled) {
        if (signal.aborted) return;
        await handOut(folder, judge, options, clock);
      }
      if (options.once && isOver(judge, decision.isTrouble, beginMs - startMs, options)) return;
      await waker.pause(pauseMs(options, troubles, scanMs));
    }
  } finally {
    await hints?.close();
  }
}

/** A single pass is over when nothing waits, or when what waits has had its chance to lie still. */
const isOver = (
  judge: InboxJudge,
  isTrouble: boolean,
  passedMs: number,
  { quietMs }: WatchOptions,
): boolean => isTrouble || !judge.isWaiting() || passedMs > quietMs;

async function handOut(
  folder: FolderScan,
  judge: InboxJudge,
  { onSettled, onStatus }: WatchOptions,
  clock: SteadyClock,
): Promise<void> {
  try {
    const wish = await onSettled(folder);
    if (wish !== undefined) judge.lookAgain(folder, clock.steadyMs() + wish.lookAgainMs);
  } catch {
    // A bug in taking one visit in must not end the watch for all the others.
    onStatus({ kind: 'work-failed', folder: folder.name });
    judge.lookAgain(folder, clock.steadyMs() + AFTER_FAILURE_MS);
  }
}

function pauseMs(
  { scanEveryMs = SCAN_EVERY_MS, once, quietMs }: WatchOptions,
  troubles: number,
  scanMs: number,
): number {
  if (troubles > 0) return Math.min(LONGEST_PAUSE_MS, scanEveryMs * 2 ** (troubles - 1));
  if (once) return Math.min(scanEveryMs, Math.max(AFTER_HINT_MS, quietMs / 4));
  return Math.max(scanEveryMs, scanMs * PAUSE_PER_SCAN);
}

/** A pause that a hint or the signal cuts short. A burst of hints makes one look. */
function makeWaker(clock: SteadyClock, signal: AbortSignal) {
  let isWoken = false;
  let current: AbortController | null = null;
  const wake = (): void => {
    isWoken = true;
    current?.abort();
  };
  signal.addEventListener('abort', wake, { once: true });
  const pause = async (ms: number): Promise<void> => {
    if (!isWoken) {
      current = new AbortController();
      await clock.sleep(ms, current.signal).catch(() => undefined);
      current = null;
    }
    if (isWoken && !signal.aborted) await clock.sleep(AFTER_HINT_MS, signal).catch(() => undefined);
    isWoken = false;
  };
  return { wake, pause };
}
