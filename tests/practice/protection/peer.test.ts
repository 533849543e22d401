import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadPatients, unlockWithKeyFile } from '../../../src/practice/index.js';
import { freshFolder, freshPractice, keptValue, reopen } from '../scratch.js';
import { BOOK, fill, PICTURE, protect, protectedPractice, sha256 } from './protected.js';

/** The reference program of the format (Debian package "age"), by the format's author. */
const hasAge = spawnSync('age', ['--version']).status === 0;
if (!hasAge && process.env['CI']) throw new Error('the package "age" is missing');

/**
 * age-encryption.org/v1 is the format; the reference program reads what this room writes and the other way round, so a
 * practice is not lost when this program is.
 */
describe.skipIf(!hasAge)('the reference program of the age format (skipped: age is not installed)', () => {
  it('reads records, lines, originals and papers with the key file', async () => {
    const { open, key } = await protectedPractice();
    const decrypt = (input: Uint8Array): string =>
      execFileSync('age', ['-d', '-i', key], { input, maxBuffer: 1e8 }).toString();
    expect(JSON.parse(decrypt(readFileSync(open.paths.patients)))).toEqual(BOOK);
    expect(decrypt(readFileSync(join(open.paths.visits, 'V1/visit.yaml')))).toContain('patient:');
    const line = readFileSync(open.paths.journal, 'utf8').split('\n')[1]?.slice(17) as string;
    const { age } = JSON.parse(line) as { age: string };
    expect(JSON.parse(decrypt(Buffer.from(age, 'base64')))).toMatchObject({ kind: 'held' });
    const original = readFileSync(join(open.paths.originals, `${sha256(PICTURE)}.jpg.age`));
    expect(decrypt(original)).toBe(PICTURE.toString());
  });

  it('makes a key file that protects a practice, and writes records that are read', async () => {
    const key = join(freshFolder(), 'key');
    execFileSync('age-keygen', ['-o', key], { stdio: 'ignore' });
    const before = readFileSync(key);
    const practice = await freshPractice();
    await fill(practice);
    const open = await protect(practice, { how: 'key-file', path: key });
    expect(readFileSync(key)).toEqual(before);
    const changed = { ...BOOK, patients: [{ ...BOOK.patients[0], chart: 'A-2' }] };
    const sealed = execFileSync('age', ['-r', open.protection?.recipient as string], {
      input: JSON.stringify(changed),
    });
    writeFileSync(open.paths.patients, sealed);
    const unlocked = await unlockWithKeyFile(await reopen(practice.root), key);
    expect(unlocked.ok && keptValue(await loadPatients(unlocked.practice))).toEqual(changed);
  });
});
