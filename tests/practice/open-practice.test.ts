import { chmodSync, existsSync, mkdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openPractice, readSecret } from '../../src/practice/index.js';
import { freshPractice, keptValue } from './scratch.js';

describe('opening', () => {
  it('makes missing folders again and closes private/ again', async () => {
    const { root, paths } = await freshPractice();
    rmSync(paths.tmp, { recursive: true });
    rmSync(paths.outbox, { recursive: true });
    chmodSync(paths.private, 0o755);
    const opened = await openPractice(root);
    expect(opened.ok).toBe(true);
    expect(existsSync(paths.tmp) && existsSync(paths.outbox)).toBe(true);
    expect(statSync(paths.private).mode & 0o777).toBe(0o700);
    expect(statSync(paths.tmp).mode & 0o777).toBe(0o700);
  });

  it('follows "private" to another place and refuses when that disk is not there', async () => {
    const { root, paths } = await freshPractice();
    const secret = keptValue(await readSecret(paths));
    writeFileSync(paths.settingsFile, 'private: ../safe/private\n');
    const lost = await openPractice(root);
    expect(lost).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('Connect its disk') }],
    });
    const place = join(root, '../safe/private');
    expect(existsSync(place)).toBe(false);
    mkdirSync(join(root, '../safe'));
    renameSync(paths.private, place);
    const opened = await openPractice(root);
    expect(opened.ok && opened.practice.paths.originals).toBe(join(place, 'originals'));
    expect(opened.ok && keptValue(await readSecret(opened.practice.paths))).toEqual(secret);
    expect(existsSync(paths.private)).toBe(false);
  });

  it('never makes a fresh private/ for a practice that was used', async () => {
    const { root, paths } = await freshPractice();
    mkdirSync(join(paths.cases, 'K7QD2M'));
    rmSync(paths.private, { recursive: true });
    expect(await openPractice(root)).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('from a copy') }],
    });
    expect(existsSync(paths.private)).toBe(false);
    rmSync(join(paths.cases, 'K7QD2M'), { recursive: true });
    expect((await openPractice(root)).ok).toBe(true);
  });

  it('refuses a damaged secret, a missing practice.yaml and one that is not UTF-8', async () => {
    const { root, paths } = await freshPractice();
    writeFileSync(paths.secret, 'short');
    expect(await openPractice(root)).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('private/secret') }],
    });
    writeFileSync(paths.settingsFile, Buffer.of(0xff, 0xfe, 0x41));
    expect(await openPractice(root)).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('UTF-8') }],
    });
    rmSync(paths.settingsFile);
    expect(await openPractice(root)).toMatchObject({
      ok: false,
      errors: [{ file: 'practice.yaml', line: 1 }],
    });
  });
});
