import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { storeOriginal, storeStripped } from '../../src/practice/index.js';
import { freshPractice, keptValue } from './scratch.js';

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const PICTURE = Buffer.from('picture');

describe('originals', () => {
  it('are stored once under their hash, for the owner alone, and storing again touches nothing', async () => {
    const practice = await freshPractice();
    const path = keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'));
    expect(path).toBe(join(practice.paths.originals, `${sha256('picture')}.jpg`));
    expect(readFileSync(path)).toEqual(PICTURE);
    const before = statSync(path, { bigint: true });
    expect(before.mode & 0o777n).toBe(0o600n);
    expect(keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'))).toBe(path);
    const after = statSync(path, { bigint: true });
    expect([after.ino, after.ctimeNs]).toEqual([before.ino, before.ctimeNs]);
    expect(readdirSync(practice.paths.originals)).toHaveLength(1);
  });

  it('are never overwritten: one that is damaged on the disk is reported and left', async () => {
    const practice = await freshPractice();
    const path = keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'));
    writeFileSync(path, 'pictur!');
    expect(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg')).toEqual({
      kind: 'failed',
      reason: { code: 'disk', what: 'an original that is stored already is damaged' },
    });
    expect(readFileSync(path, 'utf8')).toBe('pictur!');
  });

  it('are stored under nothing but a hash and a short extension', async () => {
    const practice = await freshPractice();
    await expect(storeOriginal(practice, PICTURE, '../../Jane', 'jpg')).rejects.toThrow(TypeError);
    await expect(storeOriginal(practice, PICTURE, sha256('picture'), 'jpg/x')).rejects.toThrow(TypeError);
  });

  it('have stripped bytes that may be made anew', async () => {
    const practice = await freshPractice();
    const waitsAt = join(practice.paths.tmp, 'waits');
    writeFileSync(waitsAt, PICTURE);
    await storeStripped(practice, waitsAt, sha256('original'), 'jpg');
    writeFileSync(waitsAt, 'better');
    const path = keptValue(await storeStripped(practice, waitsAt, sha256('original'), 'jpg'));
    expect(readFileSync(path, 'utf8')).toBe('better');
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(readdirSync(practice.paths.tmp)).toEqual([]);
  });
});
