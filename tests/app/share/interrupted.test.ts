import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listShares } from '../../../src/app/share/list.js';
import { finishInterrupted, type Put, release, sha256Of } from '../../../src/app/share/outbox.js';
import {
  appendRegister,
  type Practice,
  readRegister,
  type ShareRecord,
} from '../../../src/practice/index.js';
import { freshPractice } from '../small-practice.js';

const CONTENTS = ['J2P0QA-referrer.pdf', 'J2P0QA-referrer-01.jpg'].map((name) => ({
  name,
  bytes: Buffer.from(`bytes of ${name}`),
}));

const record = (id: string): ShareRecord => ({
  id,
  at: '2026-02-12T08:00:00.000Z',
  what: 'sheet and pictures',
  case: 'K7QD2M',
  shareCode: 'J2P0QA',
  template: 'referrer',
  audience: 'referrer',
  to: 'Dr Example',
  by: 'AB',
  basis: 'consent',
  version: 1,
  replaces: null,
  sha256: sha256Of(CONTENTS[0]?.bytes as Buffer),
  files: CONTENTS.map(({ name, bytes }) => ({ name, sha256: sha256Of(bytes), bytes: bytes.length })),
  audit: { clean: true, possible: 0 },
});

const now = () => new Date('2026-02-12T09:00:00Z');

/** Writes so many files, then the power goes. */
const dyingAfter = (count: number): Put => {
  let done = 0;
  return async (path, bytes) => {
    if (done === count) throw new Error('killed');
    done += 1;
    const { mkdir } = await import('node:fs/promises');
    await mkdir(join(path, '..'), { recursive: true });
    await writeFile(path, bytes);
  };
};

const kinds = async (practice: Practice): Promise<string[]> => {
  const read = await readRegister(practice);
  return read.kind === 'kept' ? read.value.map(({ kind }) => kind) : [];
};

const inOutbox = (practice: Practice): string[] =>
  readdirSync(practice.paths.outbox, { recursive: true, encoding: 'utf8' }).sort();

describe('a share that was cut short', () => {
  it.each([0, 1])(
    'after %i of two files: the register knew of it, and nothing of it stays',
    async (count) => {
      const practice = await freshPractice();
      await expect(release(practice, record('01'), CONTENTS, dyingAfter(count))).rejects.toThrow('killed');
      expect(await kinds(practice)).toEqual(['begun']);
      expect((await listShares(practice))?.map(({ status }) => status)).toEqual(['interrupted']);
      await finishInterrupted(practice, now);
      expect(inOutbox(practice)).toEqual([]);
      expect(await kinds(practice)).toEqual(['begun', 'undone']);
      expect(await listShares(practice)).toEqual([]);
    },
  );

  it('after the last file: counts as shared, since somebody may have sent it', async () => {
    const practice = await freshPractice();
    await expect(
      release(practice, record('01'), CONTENTS, async (path, bytes) => {
        await dyingAfter(2)(path, bytes);
        if (path.endsWith('01.jpg')) throw new Error('killed');
      }),
    ).rejects.toThrow('killed');
    await finishInterrupted(practice, now);
    expect(await kinds(practice)).toEqual(['begun', 'shared']);
    expect(inOutbox(practice)).toHaveLength(3);
  });

  it('takes nothing away that an earlier share of the same version has put there', async () => {
    const practice = await freshPractice();
    const alone = { ...record('01'), files: record('01').files.slice(0, 1), what: 'sheet' as const };
    await release(practice, alone, CONTENTS.slice(0, 1));
    await expect(release(practice, record('02'), CONTENTS, dyingAfter(1))).rejects.toThrow('killed');
    await finishInterrupted(practice, now);
    expect(inOutbox(practice)).toEqual(['J2P0QA', 'J2P0QA/J2P0QA-referrer.pdf']);
  });

  it('is settled once: a second look changes nothing', async () => {
    const practice = await freshPractice();
    await expect(release(practice, record('01'), CONTENTS, dyingAfter(1))).rejects.toThrow('killed');
    await finishInterrupted(practice, now);
    const register = readFileSync(practice.paths.register);
    await finishInterrupted(practice, now);
    expect(readFileSync(practice.paths.register)).toEqual(register);
  });
});

describe('the register', () => {
  it('refuses to be read or written with a damaged line, and stays as it is', async () => {
    const practice = await freshPractice();
    await release(practice, record('01'), CONTENTS);
    const text = readFileSync(practice.paths.register, 'utf8');
    const damaged = text.replace('Dr Example', 'Dr Another');
    await writeFile(practice.paths.register, damaged);
    const ledger = { kind: 'failed', reason: { code: 'ledger-damaged', file: 'register.jsonl', line: 1 } };
    expect(await readRegister(practice)).toEqual(ledger);
    expect(await appendRegister(practice, { kind: 'begun', ...record('02') })).toEqual(ledger);
    await expect(listShares(practice)).rejects.toThrow('Line 1 of private/register.jsonl');
    expect(readFileSync(practice.paths.register, 'utf8')).toBe(damaged);
  });

  it('loses only a line torn by a kill, and keeps its bytes beside it', async () => {
    const practice = await freshPractice();
    await release(practice, record('01'), CONTENTS);
    const whole = readFileSync(practice.paths.register);
    await writeFile(practice.paths.register, whole.subarray(0, -20));
    expect(await kinds(practice)).toEqual(['begun']);
    await finishInterrupted(practice, now);
    expect(await kinds(practice)).toEqual(['begun', 'shared']);
    expect(existsSync(`${practice.paths.register}.torn`)).toBe(true);
  });
});
