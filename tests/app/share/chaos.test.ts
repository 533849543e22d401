import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { finishInterrupted } from '../../../src/app/share/outbox.js';
import { readRegister, sharesIn, withLock } from '../../../src/practice/index.js';
import { freshPractice, keptValue, startProcess } from '../../practice/scratch.js';

const OUTBOX = new URL('../../../dist/app/share/outbox.js', import.meta.url).href;

/** Shares on and on under the lock: a sheet and three pictures each time, every time another version. */
const SHARE = `
  const { randomBytes } = await import('node:crypto');
  const { release, finishInterrupted, retire, sha256Of } = await import(${JSON.stringify(OUTBOX)});
  const { practice } = await p.openPractice(args[0]);
  await p.withLock(practice, 'share', async () => {
    await finishInterrupted(practice, () => new Date());
    const before = p.sharesIn((await p.readRegister(practice)).value).shared;
    for (let version = (before.at(-1)?.version ?? 0) + 1; ; version += 1) {
      const contents = ['referrer', '01', '02', '03'].map((what) => ({
        name: 'J2P0QA-' + what + '.v' + version, bytes: randomBytes(50_000) }));
      const files = contents.map(({ name, bytes }) => ({ name, sha256: sha256Of(bytes), bytes: bytes.length }));
      await release(practice, { id: randomBytes(8).toString('hex'), at: new Date().toISOString(),
        what: 'sheet and pictures', case: 'K7QD2M', shareCode: 'J2P0QA', template: 'referrer', audience: 'referrer',
        to: 'Dr Example', by: 'AB', basis: 'consent', version, replaces: null, sha256: files[0].sha256, files,
        audit: { clean: true, possible: 0 } }, contents);
      await retire(practice, () => true);
      say('shared');
    }
  });`;

const sha256 = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

describe('sharing, killed at any moment', () => {
  it('never leaves a file in the outbox that the register does not know, nor half a share', async () => {
    const practice = await freshPractice();
    for (let kill = 0; kill < 10; kill += 1) {
      const { child, said, ended } = startProcess(SHARE, practice.root);
      await said(1 + (kill % 3));
      child.kill('SIGKILL');
      await ended;
      const known = new Map(
        keptValue(await readRegister(practice)).flatMap((entry) =>
          entry.kind === 'undone' ? [] : entry.files.map((file) => [file.name, file.sha256] as const),
        ),
      );
      // Half-written files bear a temporary name until they are whole; the next one at work sweeps them away.
      const lying = readdirSync(join(practice.paths.outbox, 'J2P0QA')).filter(
        (name) => !name.startsWith('.'),
      );
      for (const name of lying)
        expect(sha256(join(practice.paths.outbox, 'J2P0QA', name))).toBe(known.get(name));
    }
    expect((await withLock(practice, 'look', () => finishInterrupted(practice, () => new Date()))).kind).toBe(
      'kept',
    );
    const { shared, unfinished } = sharesIn(keptValue(await readRegister(practice)));
    expect(unfinished).toEqual([]);
    expect(shared.length).toBeGreaterThanOrEqual(10);
    expect(readdirSync(join(practice.paths.outbox, 'J2P0QA')).filter((name) => name.startsWith('.'))).toEqual(
      [],
    );
    // Whatever counts as shared is whole, in the outbox or among what was taken out of it.
    const retired = join(practice.paths.records, 'retired');
    const all = new Map(
      [join(practice.paths.outbox, 'J2P0QA'), retired].flatMap((folder) =>
        readdirSync(folder).map((name) => [name, sha256(join(folder, name))] as const),
      ),
    );
    for (const { files } of shared) for (const file of files) expect(all.get(file.name)).toBe(file.sha256);
  });
});
