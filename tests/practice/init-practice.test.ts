import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { settingsSchema } from '../../src/core/settings.js';
import { CONSTANT_TIME, findPractice, initPractice } from '../../src/practice/index.js';
import { PRACTICE_TEXT } from '../../src/practice/practice-text.js';
import { freshFolder } from './scratch.js';

describe('init', () => {
  it('writes a practice.yaml that parses to exactly the defaults, key by key', () => {
    expect(parse(PRACTICE_TEXT)).toEqual(settingsSchema.parse({}));
    expect(Object.keys(parse(PRACTICE_TEXT))).toEqual(Object.keys(settingsSchema.shape));
  });

  it.runIf(existsSync('/proc/self'))('ends with a sentence where the system makes no folders', async () => {
    const made = await initPractice('/proc/scopeleaf/practice');
    expect(made).toMatchObject({ ok: false, because: 'disk' });
  });

  it('makes every folder, closes private/ to others and says what it made', async () => {
    const root = join(freshFolder(), 'deep/er');
    const made = await initPractice(root);
    expect(made.ok && made.made).toEqual(
      [
        'cases',
        'inbox',
        'outbox',
        'practice.yaml',
        'private',
        'private/cache',
        'private/drafts',
        'private/held',
        'private/limited',
      ]
        .concat(['private/originals', 'private/records', 'private/secret', 'private/stripped', 'private/tmp'])
        .concat(['private/visits', 'templates']),
    );
    expect(statSync(join(root, 'private')).mode & 0o777).toBe(0o700);
    expect(statSync(join(root, 'private/originals')).mode & 0o777).toBe(0o700);
    expect(statSync(join(root, 'private/secret')).mode & 0o777).toBe(0o600);
    expect(statSync(join(root, 'private/secret')).size).toBe(32);
    for (const name of ['cases', 'outbox', 'templates', 'practice.yaml']) {
      expect(statSync(join(root, name)).mtimeMs).toBe(CONSTANT_TIME.getTime());
    }
  });

  it('refuses a folder that has a practice.yaml and changes nothing in it', async () => {
    const root = freshFolder();
    writeFileSync(join(root, 'practice.yaml'), 'paper: Letter\n');
    const made = await initPractice(root);
    expect(made).toMatchObject({ ok: false, sentence: expect.stringContaining('already') });
    expect(readdirSync(root)).toEqual(['practice.yaml']);
    expect(readFileSync(join(root, 'practice.yaml'), 'utf8')).toBe('paper: Letter\n');
  });

  it('refuses a file and a place inside another practice, and makes nothing there', async () => {
    const root = join(freshFolder(), 'practice');
    await initPractice(root);
    writeFileSync(join(root, 'inbox', 'note'), 'x');
    for (const place of [join(root, 'inbox'), join(root, 'inbox', 'note'), join(root, 'new', 'one')]) {
      expect(await initPractice(place)).toMatchObject({ ok: false, because: 'usage' });
    }
    expect(readdirSync(join(root, 'inbox'))).toEqual(['note']);
  });

  it('finishes an init that was cut short and keeps the secret it finds', async () => {
    const root = freshFolder();
    await initPractice(root);
    const secret = readFileSync(join(root, 'private/secret'));
    rmSync(join(root, 'practice.yaml'));
    const made = await initPractice(root);
    expect(made.ok && made.made).toEqual(['practice.yaml']);
    expect(readFileSync(join(root, 'private/secret'))).toEqual(secret);
  });

  it('says so when the place is a file', async () => {
    const path = join(freshFolder(), 'file');
    writeFileSync(path, '');
    expect(await initPractice(path)).toMatchObject({ ok: false });
  });
});

describe('finding the practice', () => {
  it('takes what was named, then the environment, then the nearest folder above', async () => {
    const root = freshFolder();
    for (const name of ['a', 'b', 'c/inner/deep']) mkdirSync(join(root, name), { recursive: true });
    for (const name of ['a', 'b', 'c']) writeFileSync(join(root, name, 'practice.yaml'), '');
    const cwd = join(root, 'c/inner/deep');
    const env = { SCOPELEAF_PRACTICE: join(root, 'b') };
    expect(await findPractice({ explicit: '../../../a', env, cwd })).toEqual({
      ok: true,
      root: join(root, 'a'),
    });
    expect(await findPractice({ env, cwd })).toEqual({ ok: true, root: join(root, 'b') });
    expect(await findPractice({ env: { SCOPELEAF_PRACTICE: '' }, cwd })).toEqual({
      ok: true,
      root: join(root, 'c'),
    });
  });

  it('never looks elsewhere when the named folder is no practice', async () => {
    const root = freshFolder();
    writeFileSync(join(root, 'practice.yaml'), '');
    const found = await findPractice({ explicit: 'nowhere', env: {}, cwd: root });
    expect(found).toMatchObject({ ok: false, sentence: expect.stringContaining('--practice') });
    expect(await findPractice({ env: { SCOPELEAF_PRACTICE: '/nowhere' }, cwd: root })).toMatchObject({
      ok: false,
    });
    expect(await findPractice({ env: {}, cwd: '/' })).toMatchObject({ ok: false });
  });
});
