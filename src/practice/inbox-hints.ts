import type { FSWatcher } from 'chokidar';

/**
 * Asks the system to tell when something in the inbox changes. Only ever a hint to look sooner: events get lost
 * without an error, on network shares they may never come, so nothing rests on them.
 */
export interface InboxHints {
  /** Watches anew, after the inbox was replaced or came back. */
  restart(): Promise<void>;
  close(): Promise<void>;
}

export interface HintOptions {
  inbox: string;
  /** Something may have changed. Also called once when watching has begun. */
  onHint: () => void;
  /** Hints cannot be had; scans go on alone. */
  onOff: (why: 'no-answer' | 'trouble') => void;
  sleep: (ms: number, signal: AbortSignal) => Promise<unknown>;
}

/** Watching a large tree may take long; one that has not begun by then is given up. */
const READY_WITHIN_MS = 10_000;

/** Links are not followed (a loop would never end), depth as in the scan, nothing read. */
const WATCH_OPTIONS = {
  followSymlinks: false,
  depth: 2,
  ignoreInitial: true,
  awaitWriteFinish: false,
  atomic: false,
  usePolling: false,
};

export async function openHints(options: HintOptions): Promise<InboxHints> {
  let watcher: FSWatcher | null = null;
  let patience = new AbortController();
  const close = async (): Promise<void> => {
    patience.abort();
    const old = watcher;
    watcher = null;
    await old?.close().catch(() => undefined);
  };
  const giveUp = (from: FSWatcher, why: 'no-answer' | 'trouble'): void => {
    if (watcher !== from) return;
    options.onOff(why);
    void close();
  };
  const restart = async (): Promise<void> => {
    await close();
    patience = new AbortController();
    const { watch } = await import('chokidar');
    const fresh = watch(options.inbox, WATCH_OPTIONS);
    watcher = fresh;
    const { signal } = patience;
    let isReady = false;
    fresh.on('all', options.onHint);
    fresh.on('error', () => giveUp(fresh, 'trouble'));
    fresh.on('ready', () => {
      isReady = true;
      options.onHint();
    });
    const late = (): void => {
      if (!isReady && !signal.aborted) giveUp(fresh, 'no-answer');
    };
    void options.sleep(READY_WITHIN_MS, signal).then(late, () => undefined);
  };
  await restart();
  return { restart, close };
}
