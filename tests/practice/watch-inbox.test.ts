import { execFileSync } from 'node:child_process';
import { appendFileSync, mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type FolderScan,
  type InboxScan,
  type InboxStatus,
  type SteadyClock,
  scanInbox,
  type WatchOptions,
  watchInbox,
} from '../../src/practice/index.js';
import { freshFolder } from './scratch.js';

/** A clock that jumps ahead instead of sleeping, and remembers how long it was asked to sleep. */
function jumpingClock(): SteadyClock & { slept: number[] } {
  let nowMs = 0;
  const slept: number[] = [];
  return {
    slept,
    steadyMs: () => nowMs,
    sleep: async (ms) => {
      slept.push(ms);
      nowMs += ms;
      await new Promise((go) => setImmediate(go));
    },
  };
}

const freshInbox = (): string => {
  const inbox = join(freshFolder(), 'inbox');
  mkdirSync(inbox);
  return inbox;
};

function drop(inbox: string, name: string, files: readonly string[] = ['visit.yaml', 'a.jpg']): void {
  mkdirSync(join(inbox, name), { recursive: true });
  for (const file of files) writeFileSync(join(inbox, name, file), 'picture');
}

type Step = (look: number) => void;

/**
 * Watches with a clock that jumps; `step` is called before each look with its number from 0 and makes things happen.
 * The watch ends at the look numbered `looks`.
 */
async function watchFor(inbox: string, looks: number, step: Step, more: Partial<WatchOptions> = {}) {
  const stop = new AbortController();
  const clock = jumpingClock();
  const settled: string[] = [];
  const statuses: InboxStatus[] = [];
  let look = 0;
  await watchInbox({
    inbox,
    quietMs: 4000,
    hints: false,
    clock,
    signal: stop.signal,
    scan: async (path): Promise<InboxScan> => {
      if (look >= looks) stop.abort();
      step(look);
      look += 1;
      return scanInbox(path);
    },
    onSettled: async ({ name, entries }) => {
      settled.push(`${name} (${entries.length}) at look ${look - 1}`);
      return undefined;
    },
    onStatus: (status) => void statuses.push(status),
    ...more,
  });
  return { settled, statuses, slept: clock.slept };
}

describe('watching the inbox', () => {
  it('finds a folder that arrives, waits until it lies still, and finds it again when it changes', async () => {
    const inbox = freshInbox();
    const { settled } = await watchFor(inbox, 12, (look) => {
      if (look === 1) drop(inbox, 'v', ['a.jpg']);
      if (look === 2) drop(inbox, 'v', ['b.jpg', 'visit.yaml']);
      if (look === 7) appendFileSync(join(inbox, 'v/visit.yaml'), 'corrected');
    });
    expect(settled).toEqual(['v (3) at look 4', 'v (3) at look 9']);
  });

  it('misses nothing of many folders made at once, whatever events would have said', async () => {
    const inbox = freshInbox();
    const { settled } = await watchFor(inbox, 5, (look) => {
      if (look !== 1) return;
      for (let n = 0; n < 60; n += 1) drop(inbox, `visit ${n}/films`, ['1.jpg', '2.jpg', '3.jpg']);
    });
    expect(settled).toHaveLength(60);
    expect(settled.every((line) => line.includes('(3)'))).toBe(true);
  });

  it('survives everything hostile beside one good visit, and hands out the good one', async () => {
    const inbox = freshInbox();
    drop(inbox, 'good');
    drop(inbox, 'bad', ['a.jpg']);
    execFileSync('mkfifo', [join(inbox, 'bad/pipe.jpg'), join(inbox, 'pipe')]);
    symlinkSync('..', join(inbox, 'bad/up'));
    symlinkSync('.', join(inbox, 'bad/self'));
    symlinkSync(freshFolder(), join(inbox, 'elsewhere'));
    mkdirSync(Buffer.concat([Buffer.from(`${inbox}/`), Buffer.of(0xff)]));
    writeFileSync(join(inbox, 'loose.jpg'), 'picture');
    writeFileSync(join(inbox, 'Thumbs.db'), 'junk');
    const { settled, statuses } = await watchFor(inbox, 4, () => undefined);
    expect(settled).toEqual(['bad (4) at look 2', 'good (2) at look 2']);
    expect(statuses.find(({ kind }) => kind === 'loose')).toEqual({ kind: 'loose', names: ['loose.jpg'] });
    expect(statuses.find(({ kind }) => kind === 'refused')).toMatchObject({
      items: [
        { name: 'elsewhere', reason: { what: 'link' } },
        { name: 'pipe', reason: { what: 'pipe' } },
        { name: '\uFFFD', reason: { code: 'name-not-utf8' } },
      ],
    });
  });

  it('says that the inbox is missing, looks for it less and less often, and goes on when it is made again', async () => {
    const inbox = freshInbox();
    drop(inbox, 'v');
    const { settled, statuses, slept } = await watchFor(inbox, 14, (look) => {
      if (look === 3) rmSync(inbox, { recursive: true });
      if (look !== 11) return;
      mkdirSync(inbox);
      drop(inbox, 'w');
    });
    expect(settled).toEqual(['v (2) at look 2', 'w (2) at look 13']);
    expect(statuses.map(({ kind }) => kind)).toEqual([
      'waiting',
      'waiting',
      'inbox-missing',
      'inbox-back',
      'waiting',
      'waiting',
    ]);
    expect(slept.slice(3, 11)).toEqual([2000, 4000, 8000, 16_000, 32_000, 60_000, 60_000, 60_000]);
    expect(slept[11]).toBe(2000);
  });

  it('notices another folder in the place of the inbox', async () => {
    const inbox = freshInbox();
    const { statuses } = await watchFor(inbox, 4, (look) => {
      if (look !== 2) return;
      renameSync(inbox, `${inbox} old`);
      mkdirSync(inbox);
    });
    expect(statuses).toEqual([{ kind: 'inbox-replaced' }]);
  });

  it('outlives a bug in taking one visit in, and tries that visit again after a minute', async () => {
    const inbox = freshInbox();
    drop(inbox, 'v');
    drop(inbox, 'w');
    const seen: string[] = [];
    const onSettled = async ({ name }: FolderScan): Promise<undefined> => {
      seen.push(name);
      if (name === 'v' && seen.length < 3) throw new Error('bug');
      return undefined;
    };
    const { statuses } = await watchFor(inbox, 40, () => undefined, { onSettled });
    expect(seen).toEqual(['v', 'w', 'v']);
    expect(statuses).toContainEqual({ kind: 'work-failed', folder: 'v' });
  });

  it('looks less often when a look takes long', async () => {
    const clock = jumpingClock();
    const stop = new AbortController();
    let looks = 0;
    await watchInbox({
      inbox: '/nowhere',
      quietMs: 0,
      hints: false,
      clock,
      signal: stop.signal,
      onSettled: async () => undefined,
      onStatus: () => undefined,
      scan: async () => {
        await clock.sleep(3000);
        if (++looks === 2) stop.abort();
        return { kind: 'seen', identity: '1', folders: [], loose: [], refused: [] };
      },
    });
    expect(clock.slept.slice(0, 3)).toEqual([3000, 12_000, 3000]);
  });

  it('makes a single pass: hands out what lies still, leaves what still changes, and returns', async () => {
    const inbox = freshInbox();
    drop(inbox, 'still');
    drop(inbox, 'changing');
    drop(inbox, 'empty', []);
    const { settled } = await watchFor(
      inbox,
      99,
      (look) => appendFileSync(join(inbox, 'changing/a.jpg'), `${look}`),
      { once: true },
    );
    expect(settled).toEqual(['still (2) at look 4']);
    const missing = await watchFor(join(inbox, 'none'), 99, () => undefined, { once: true });
    expect(missing.statuses).toEqual([{ kind: 'inbox-missing' }]);
    const nothing = await watchFor(freshInbox(), 99, () => undefined, { once: true });
    expect(nothing.slept).toEqual([]);
  });

  it('hints make it look sooner, through a real watcher, with a link loop in the inbox', async () => {
    const inbox = freshInbox();
    drop(inbox, 'first');
    symlinkSync('..', join(inbox, 'first/up'));
    symlinkSync('.', join(inbox, 'first/self'));
    const stop = new AbortController();
    const settled: string[] = [];
    // An hour between scans: only hints can bring the second folder within the time of a test.
    await watchInbox({
      inbox,
      quietMs: 0,
      scanEveryMs: 3_600_000,
      signal: stop.signal,
      onStatus: () => undefined,
      onSettled: async ({ name }) => {
        settled.push(name);
        if (settled.length === 1) setImmediate(() => drop(inbox, 'second', ['a.jpg']));
        if (name === 'second') stop.abort();
        return undefined;
      },
    });
    expect(settled).toEqual(expect.arrayContaining(['first', 'second']));
  });

  it('goes on with scans alone when hints cannot be had in time', async () => {
    const inbox = freshInbox();
    // The jumping clock lets the ten seconds pass before the watcher can answer.
    const { settled, statuses } = await watchFor(inbox, 6, (look) => look === 1 && drop(inbox, 'v'), {
      hints: true,
    });
    expect(settled).toEqual(['v (2) at look 3']);
    expect(statuses).toContainEqual({ kind: 'hints-off', why: 'no-answer' });
  });
});
