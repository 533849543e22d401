import { chmodSync, mkdirSync, readdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CONSTANT_TIME, placeFile, removeFile, settleTimes, writeOpenly } from '../../src/practice/index.js';
import { freshFolder, freshPractice } from './scratch.js';

const OLD = Buffer.from('the old content');

describe('what lies outside private/', () => {
  it('has one time, files and folders, whatever is added or removed', async () => {
    const { paths } = await freshPractice();
    const images = join(paths.cases, 'K7QD2M/images');
    const waits = join(paths.tmp, 'waits');
    writeFileSync(waits, OLD);
    expect((await placeFile(waits, join(images, '01-pre-op.png'))).kind).toBe('kept');
    expect((await writeOpenly(join(images, '02-access.jpg'), OLD)).kind).toBe('kept');
    expect((await removeFile(join(images, '01-pre-op.png'))).kind).toBe('kept');
    for (const path of [join(images, '02-access.jpg'), images, join(paths.cases, 'K7QD2M'), paths.cases]) {
      expect(statSync(path).mtime, path).toEqual(CONSTANT_TIME);
    }
    expect(readdirSync(images)).toEqual(['02-access.jpg']);
    expect(readdirSync(paths.tmp)).toEqual([]);
  });

  it('is placed once when the same move is made again after a kill', async () => {
    const { paths } = await freshPractice();
    const to = join(paths.cases, 'K7QD2M/images/01-pre-op.png');
    const from = join(paths.tmp, 'waits');
    writeFileSync(from, OLD);
    await placeFile(from, to);
    expect((await placeFile(from, to)).kind).toBe('kept');
    expect((await removeFile(from)).kind).toBe('kept');
    expect((await placeFile(from, `${to}x`)).kind).toBe('failed');
  });

  it('is settled as a whole, links left alone', async () => {
    const folder = freshFolder();
    mkdirSync(join(folder, 'a/b'), { recursive: true });
    writeFileSync(join(folder, 'a/b/c'), OLD);
    const outside = join(freshFolder(), 'outside');
    writeFileSync(outside, OLD);
    symlinkSync(outside, join(folder, 'a/link'));
    const before = statSync(outside).mtimeMs;
    await settleTimes(folder);
    for (const name of ['', 'a', 'a/b', 'a/b/c'])
      expect(statSync(join(folder, name)).mtime).toEqual(CONSTANT_TIME);
    expect(statSync(outside).mtimeMs).toBe(before);
    chmodSync(folder, 0o755);
  });
});
