import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readJournal, withLock } from '../../src/practice/index.js';
import { freshPractice, keptValue, startProcess } from './scratch.js';

/** Stores originals and journals each, under the lock, on and on; says what it has been told is safe. */
const STORE = `
  const { createHash, randomBytes } = await import('node:crypto');
  const { practice } = await p.openPractice(args[0]);
  await p.withLock(practice, 'store', async () => {
    const journal = (await p.Journal.open(practice.paths.journal)).value;
    say('ready');
    for (;;) {
      const bytes = randomBytes(200000);
      const sha256 = createHash('sha256').update(bytes).digest('hex');
      const stored = await p.storeOriginal(practice, bytes, sha256, 'bin');
      const entered = await journal.append({ kind: 'stored', sha256 });
      if (stored.kind === 'kept' && entered.kind === 'kept') say(sha256);
    }
  });`;

describe('killed at any moment', () => {
  it('loses nothing that was said to be safe, and leaves nothing half-written', async () => {
    const practice = await freshPractice();
    const safe: string[] = [];
    for (let kill = 0; kill < 12; kill += 1) {
      const { child, lines, said, ended } = startProcess(STORE, practice.root);
      // Lines until the kill differ from round to round; where in a step it falls is left to chance.
      await said(2 + (kill % 5));
      child.kill('SIGKILL');
      await ended;
      expect(lines[0]).toBe('ready');
      safe.push(...lines.slice(1));
    }
    expect(safe.length).toBeGreaterThan(11);
    expect((await withLock(practice, 'look', async () => null)).kind).toBe('kept');
    const journalled = new Set(keptValue(await readJournal(practice)).map((entry) => entry['sha256']));
    expect(safe.filter((sha256) => !journalled.has(sha256))).toEqual([]);
    const names = readdirSync(practice.paths.originals);
    for (const name of names) {
      const bytes = readFileSync(join(practice.paths.originals, name));
      expect(name).toBe(`${createHash('sha256').update(bytes).digest('hex')}.bin`);
    }
    expect([...journalled].filter((sha256) => !names.includes(`${sha256}.bin`))).toEqual([]);
  });
});
