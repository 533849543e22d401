import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { withLock } from '../../src/practice/index.js';
import { tryLock } from '../../src/practice/lock-file.js';
import { describeSelf, isDead, parseHolder } from '../../src/practice/lock-holder.js';
import { freshPractice, keptValue, startProcess } from './scratch.js';

/** Opens the practice, takes the lock, says so, and holds it until killed. */
const HOLD = `
  const { practice } = await p.openPractice(args[0]);
  const got = await p.withLock(practice, 'hold', () => new Promise(() => { say('held'); setInterval(() => {}, 1e6); }));
  say(JSON.stringify(got));`;

/**
 * Takes the lock many times; inside it checks that nobody else is in, by a file made exclusively, and adds one to a
 * counter without any other protection.
 */
const COUNT = `
  const { practice } = await p.openPractice(args[0]);
  const { openSync, closeSync, rmSync, readFileSync, writeFileSync } = await import('node:fs');
  const counter = args[0] + '/counter', inside = args[0] + '/inside';
  let done = 0, clashes = 0;
  while (done < Number(args[1])) {
    const got = await p.withLock(practice, 'count', async () => {
      try { closeSync(openSync(inside, 'wx')); } catch { clashes += 1; }
      const n = Number(readFileSync(counter, 'utf8'));
      await new Promise((go) => setImmediate(go));
      writeFileSync(counter, String(n + 1));
      rmSync(inside, { force: true });
      done += 1;
    }, { waitMs: 30000, sleep: () => new Promise((go) => setTimeout(go, 1)) });
    if (got.kind !== 'kept') { say(JSON.stringify(got)); break; }
  }
  say('clashes ' + clashes);`;

describe('the lock of a practice', () => {
  it('gives the work its turn and its result, and is gone afterwards', async () => {
    const practice = await freshPractice();
    const before = readdirSync(practice.paths.private);
    const got = await withLock(practice, 'intake', async () => {
      expect(existsSync(practice.paths.lock)).toBe(true);
      return 7;
    });
    expect(got).toEqual({ kind: 'kept', value: 7 });
    expect(readdirSync(practice.paths.private)).toEqual(before);
  });

  it('is given back when the work throws', async () => {
    const practice = await freshPractice();
    await expect(withLock(practice, 'a', () => Promise.reject(new Error('bug')))).rejects.toThrow('bug');
    expect(existsSync(practice.paths.lock)).toBe(false);
  });

  it('tells a second one who holds it and since when, after the wait it was given', async () => {
    const practice = await freshPractice();
    const now = () => new Date('2026-02-11T09:41:00Z');
    let clockMs = 0;
    const got = await withLock(
      practice,
      'watch',
      () =>
        withLock(practice, 'intake', async () => 'never', {
          waitMs: 1000,
          steadyMs: () => clockMs,
          sleep: async (ms) => {
            clockMs += ms;
          },
        }),
      { now },
    );
    expect(keptValue(got)).toEqual({
      kind: 'failed',
      reason: {
        code: 'practice-busy',
        what: 'watch',
        pid: process.pid,
        host: hostname(),
        since: '2026-02-11T09:41:00.000Z',
      },
    });
    expect(clockMs).toBe(1000);
  });

  it('comes to the one who waits once the other has finished', async () => {
    const practice = await freshPractice();
    let release = (): void => undefined;
    const first = withLock(practice, 'first', () => new Promise<void>((go) => (release = go)));
    while (!existsSync(practice.paths.lock)) await new Promise((go) => setImmediate(go));
    const sleep = async (): Promise<void> => {
      release();
      await first;
    };
    expect(await withLock(practice, 'second', async () => 'in', { waitMs: 10_000, sleep })).toEqual({
      kind: 'kept',
      value: 'in',
    });
  });

  it('is taken over from a killed holder, whose half-written files are swept away', async () => {
    const practice = await freshPractice();
    const { child, said, ended } = startProcess(HOLD, practice.root);
    await said(1);
    const busy = await withLock(practice, 'second', async () => 'in');
    expect(busy).toMatchObject({
      kind: 'failed',
      reason: { code: 'practice-busy', what: 'hold', pid: child.pid },
    });
    child.kill('SIGKILL');
    await ended;
    const images = join(practice.paths.cases, 'K7QD2M/images');
    mkdirSync(images, { recursive: true });
    const halves = [
      join(images, '.scopeleaf-0123456789ab.tmp'),
      join(practice.paths.originals, '.scopeleaf-ba9876543210.tmp'),
    ];
    for (const half of halves) writeFileSync(half, 'half');
    writeFileSync(join(images, '01-pre-op.png'), 'whole');
    expect(await withLock(practice, 'third', async () => 'in')).toEqual({ kind: 'kept', value: 'in' });
    expect(halves.some((half) => existsSync(half))).toBe(false);
    expect(readdirSync(images)).toEqual(['01-pre-op.png']);
    expect(readdirSync(practice.paths.private).filter((name) => name.startsWith('lock'))).toEqual([]);
  });

  it('is taken over with private/tmp emptied: pictures that waited there are not covered', async () => {
    const practice = await freshPractice();
    const self = await describeSelf('intake', 'aaaaaaaaaaaaaaaaaaaaaaaa', new Date());
    writeFileSync(practice.paths.lock, JSON.stringify({ ...self, pid: 4_194_305 }));
    writeFileSync(join(practice.paths.tmp, `${'a'.repeat(64)}-cd1-display`), 'a picture');
    mkdirSync(join(practice.paths.tmp, 'audit-0123456789abcdef'));
    keptValue(await withLock(practice, 'next', async () => undefined));
    expect(readdirSync(practice.paths.tmp)).toEqual([]);
  });

  it('is held by one at a time among four contenders with a killed holder to begin with', async () => {
    const practice = await freshPractice();
    for (let round = 0; round < 3; round += 1) {
      writeFileSync(join(practice.root, 'counter'), '0');
      const holder = startProcess(HOLD, practice.root);
      await holder.said(1);
      const contenders = Array.from({ length: 4 }, () => startProcess(COUNT, practice.root, '10'));
      holder.child.kill('SIGKILL');
      await Promise.all([holder.ended, ...contenders.map(({ ended }) => ended)]);
      expect(contenders.map(({ lines }) => lines)).toEqual(Array(4).fill(['clashes 0']));
      expect(readFileSync(join(practice.root, 'counter'), 'utf8')).toBe('40');
    }
  });

  it('is taken over also when a contender died in the middle of taking it over', async () => {
    const practice = await freshPractice();
    const self = await describeSelf('third', 'aaaaaaaaaaaaaaaaaaaaaaaa', new Date());
    // No process can have this number on Linux, where pid_max is at most 4194304 (proc(5)).
    const dead = { ...self, what: 'first', nonce: 'dddddddddddddddddddddddd', pid: 4_194_305 };
    const deadTaker = { ...dead, what: 'second', nonce: 'eeeeeeeeeeeeeeeeeeeeeeee' };
    const { lock } = practice.paths;
    writeFileSync(lock, JSON.stringify(dead));
    writeFileSync(`${lock}.take.${dead.nonce}`, JSON.stringify(deadTaker));
    expect(await tryLock(lock, self)).toEqual({ kind: 'got', tookOver: true });
    expect(parseHolder(readFileSync(lock, 'utf8'))?.nonce).toBe(self.nonce);
    expect(readdirSync(practice.paths.private).filter((name) => name.startsWith('lock'))).toEqual(['lock']);
  });

  it('waits while a living contender is taking it over', async () => {
    const practice = await freshPractice();
    const self = await describeSelf('third', 'aaaaaaaaaaaaaaaaaaaaaaaa', new Date());
    const dead = { ...self, nonce: 'dddddddddddddddddddddddd', pid: 4_194_305 };
    const { lock } = practice.paths;
    writeFileSync(lock, JSON.stringify(dead));
    writeFileSync(
      `${lock}.take.${dead.nonce}`,
      JSON.stringify({ ...self, nonce: 'cccccccccccccccccccccccc' }),
    );
    expect(await tryLock(lock, self)).toEqual({ kind: 'again' });
    expect(parseHolder(readFileSync(lock, 'utf8'))?.nonce).toBe(dead.nonce);
  });

  it('is taken over when it cannot be read, as damage leaves it', async () => {
    const practice = await freshPractice();
    writeFileSync(practice.paths.lock, '\0\0\0');
    expect(await withLock(practice, 'a', async () => 'in')).toEqual({ kind: 'kept', value: 'in' });
  });
});

describe('judging a holder', () => {
  it('knows a process by pid and start, a restart by the boot, and leaves strangers alone', async () => {
    const self = await describeSelf('a', 'aaaaaaaaaaaaaaaaaaaaaaaa', new Date());
    expect(await isDead(self, self)).toBe(false);
    expect(await isDead({ ...self, pid: 4_194_305 }, self)).toBe(true);
    expect(await isDead({ ...self, host: 'another' }, self)).toBe(false);
    expect(await isDead({ ...self, place: 'another', pid: 4_194_305 }, self)).toBe(self.place === null);
    if (process.platform !== 'linux') return;
    expect(await isDead({ ...self, started: '1' }, self)).toBe(true);
    expect(await isDead({ ...self, boot: 'earlier' }, self)).toBe(true);
  });
});
