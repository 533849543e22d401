import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { afterEach, describe, expect, test } from 'vitest';
import type { Outcome } from '../../src/core/outcome.js';
import { openWorkers, type PictureWorkers, type WorkerOptions } from '../../src/workers/index.js';
import { factsOf } from '../stages/render/facts-for-tests.js';

const childModule = new URL('./faulty-child.mjs', import.meta.url);
const opened: PictureWorkers[] = [];

function open(options: Partial<WorkerOptions> = {}): PictureWorkers {
  const workers = openWorkers({ size: 1, timeLimitMs: 30_000, childModule, ...options });
  opened.push(workers);
  return workers;
}

afterEach(async () => {
  await Promise.all(opened.splice(0).map((workers) => workers.close()));
});

/** A light job that the child obeys by name. */
const ask = (workers: PictureWorkers, name: string) =>
  workers.identify({ path: '', name }) as Promise<Outcome<unknown>>;

/** A heavy one. */
const askHeavy = (workers: PictureWorkers, name: string) =>
  workers.make({ path: name, facts: factsOf(), radiograph: false, flip: false, into: null }) as Promise<
    Outcome<unknown>
  >;

async function pidOf(workers: PictureWorkers): Promise<number> {
  const outcome = await ask(workers, 'hello');
  if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
  return (outcome.value as { pid: number }).pid;
}

/** False once the system has no such process, not even one that waits to be collected. */
function isThere(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}

const gone = (pid: number) => expect.poll(() => isThere(pid), { timeout: 20_000 }).toBe(false);
const died = (what: string) => ({ kind: 'held', reason: { code: 'worker-died', what } });

describe('a job that kills its child is held alone, and the next one works', () => {
  test.each([
    ['hang', 'time', { timeLimitMs: 400 }],
    ['wait', 'time', { timeLimitMs: 400 }],
    ['grow', 'memory', { memoryLimitBytes: 300_000_000 }],
    ['grow-and-hang', 'memory', { memoryLimitBytes: 300_000_000 }],
    ['killed', 'memory', {}],
    ['exit', 'crash', {}],
    ['abort', 'crash', {}],
  ] as const)('%s: %s', async (name, what, limits) => {
    const workers = open(limits);
    const [before, bad, after] = await Promise.all([
      ask(workers, 'one'),
      ask(workers, name),
      ask(workers, 'two'),
    ]);
    expect(bad).toEqual(died(what));
    expect(before).toMatchObject({ kind: 'kept', value: { name: 'one' } });
    expect(after).toMatchObject({ kind: 'kept', value: { name: 'two' } });
  });

  test('and a neighbour at work in another child does not notice', async () => {
    const workers = open({ size: 2, timeLimitMs: 1500 });
    const outcomes = await Promise.all(
      ['hang', 'one', 'two', 'exit', 'three'].map((name) => ask(workers, name)),
    );
    expect(outcomes.map(({ kind }) => kind)).toEqual(['held', 'kept', 'kept', 'held', 'kept']);
  });
});

describe('an exception inside a child', () => {
  test('becomes data, and its text, which may name a person, stays inside', async () => {
    const workers = open();
    expect(await ask(workers, 'throw')).toEqual({
      kind: 'failed',
      reason: { code: 'bug', what: 'identify: TypeError' },
    });
    expect(await ask(workers, 'absent')).toEqual({
      kind: 'failed',
      reason: { code: 'disk', what: 'ENOENT' },
    });
  });

  test('does not cost the child', async () => {
    const workers = open();
    const pid = await pidOf(workers);
    await ask(workers, 'throw');
    expect(await pidOf(workers)).toBe(pid);
  });
});

describe('children', () => {
  test('are replaced after their share of jobs', async () => {
    const workers = open({ jobsPerChild: 3 });
    const pids: number[] = [];
    for (let job = 0; job < 7; job++) pids.push(await pidOf(workers));
    expect(new Set(pids.slice(0, 3)).size).toBe(1);
    expect(new Set(pids).size).toBe(3);
    await gone(pids[0]!);
  });

  test('are replaced when they keep much memory', async () => {
    const workers = open({ memoryLimitBytes: 150_000_000 });
    const first = await pidOf(workers);
    expect(await pidOf(workers)).not.toBe(first);
  });

  test('are never more than asked for, and hand back large results whole', async () => {
    const workers = open({ size: 2 });
    const outcomes = await Promise.all(Array.from({ length: 6 }, () => ask(workers, 'hello')));
    const pids = outcomes.map((outcome) => outcome.kind === 'kept' && (outcome.value as { pid: number }).pid);
    expect(new Set(pids).size).toBeLessThanOrEqual(2);
    const bulk = await ask(workers, 'bulk');
    if (bulk.kind !== 'kept') throw new Error(bulk.reason.code);
    expect(Buffer.from(bulk.value as Uint8Array).equals(Buffer.alloc(30_000_000, 7))).toBe(true);
  });

  test('killed while idle are replaced without a word', async () => {
    const workers = open();
    const pid = await pidOf(workers);
    process.kill(pid, 'SIGKILL');
    await gone(pid);
    expect(await pidOf(workers)).not.toBe(pid);
  });

  test("that cannot start are the machine's trouble, not the picture's", async () => {
    const workers = open({ childModule: new URL('./never-ready-child.mjs', import.meta.url) });
    expect(await ask(workers, 'hello')).toMatchObject({ kind: 'failed', reason: { code: 'bug' } });
    expect(await ask(workers, 'hello')).toMatchObject({ kind: 'failed', reason: { code: 'bug' } });
  });
});

describe('closing', () => {
  test('ends every child, the busy one too, and answers what was still asked', async () => {
    const workers = open({ size: 2 });
    const pid = await pidOf(workers);
    const asked = ['wait', 'hang', 'hello', 'hello'].map((name) => ask(workers, name));
    await workers.close();
    expect(isThere(pid)).toBe(false);
    for (const outcome of await Promise.all(asked)) expect(outcome).toMatchObject({ kind: 'failed' });
    expect(await ask(workers, 'hello')).toMatchObject({ kind: 'failed' });
    await workers.close();
  });

  test('before any job has nothing to end', async () => {
    await open().close();
  });
});

describe('when the program that opened them', () => {
  test.each(['idle', 'busy'])('is killed, an %s child ends by itself', async (state) => {
    const { parent, pid } = await startParent(state);
    parent.kill('SIGKILL');
    await gone(pid);
  });

  test('is done, an idle child does not keep it alive', async () => {
    const { parent, pid } = await startParent('leave');
    if (parent.exitCode === null) await once(parent, 'exit');
    expect(parent.exitCode).toBe(0);
    await gone(pid);
  });
});

async function startParent(state: string) {
  const script = new URL('./doomed-parent.mjs', import.meta.url).pathname;
  const parent = spawn(process.execPath, [script, state], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [said] = await once(parent.stdout, 'data');
  return { parent, pid: Number(String(said)) };
}

test('light jobs pass heavy ones that wait, and heavy ones get their turn', async () => {
  const workers = open();
  const order: string[] = [];
  const note = (kind: string) => () => void order.push(kind);
  const first = askHeavy(workers, 'first').then(note('heavy'));
  const heavy = Array.from({ length: 3 }, () => askHeavy(workers, 'more').then(note('heavy')));
  const light = Array.from({ length: 20 }, () => ask(workers, 'quick').then(note('light')));
  await Promise.all([first, ...heavy, ...light]);
  expect(order[1]).toBe('light');
  const firstWaitingHeavy = order.indexOf('heavy', 1);
  expect(firstWaitingHeavy).toBeLessThan(order.lastIndexOf('light'));
});
