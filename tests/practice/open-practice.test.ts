import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { settingsSchema } from '../../src/core/settings.js';
import {
  CONSTANT_TIME,
  findPractice,
  initPractice,
  openPractice,
  readSecret,
} from '../../src/practice/index.js';
import { PRACTICE_TEXT } from '../../src/practice/practice-text.js';
import { readSettings } from '../../src/practice/read-settings.js';
import { freshFolder, freshPractice, keptValue } from './scratch.js';

const errorsOf = (text: string) => {
  const read = readSettings(text);
  return read.ok ? [] : read.errors;
};

describe('init', () => {
  it('writes a practice.yaml that parses to exactly the defaults, key by key', () => {
    expect(parse(PRACTICE_TEXT)).toEqual(settingsSchema.parse({}));
    expect(Object.keys(parse(PRACTICE_TEXT))).toEqual(Object.keys(settingsSchema.shape));
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

describe('reading practice.yaml', () => {
  it('gives every default for an empty file or one of comments only', () => {
    for (const text of ['', '# nothing\n', '\uFEFF# a byte order mark\r\n', '{}', 'null']) {
      expect(readSettings(text)).toEqual({ ok: true, settings: settingsSchema.parse({}) });
    }
  });

  it('names an unknown key with its place and the key it was meant to be', () => {
    expect(errorsOf('# one\npaper: A4\nnotaton: fdi\n')).toEqual([
      {
        file: 'practice.yaml',
        line: 3,
        column: 1,
        field: 'notaton',
        sentence: 'notaton is not a setting. Did you mean "notation"?',
      },
    ]);
    expect(errorsOf('xyzzy: 1\n')[0]?.sentence).toContain('Allowed: notation, paper');
    expect(errorsOf('sources:\n  - {source: A, ofset: 3}\n')).toMatchObject([
      { line: 2, column: 17, field: 'sources[0].ofset', sentence: expect.stringContaining('"offset"') },
    ]);
  });

  it('names all mistakes at once, each at its value', () => {
    const text =
      'quiet: soon\npaper: A5\nminimumText: 4\nsources:\n  - corrected: yes please\n    source: B\n';
    expect(errorsOf(text).map(({ line, column, field }) => [line, column, field])).toEqual([
      [2, 8, 'paper'],
      [1, 8, 'quiet'],
      [5, 16, 'sources[0].corrected'],
      [3, 14, 'minimumText'],
    ]);
    expect(errorsOf('paper: A5')[0]?.sentence).toBe('paper must be one of: A4, Letter.');
    expect(errorsOf('quiet: soon')[0]?.sentence).toBe('quiet must be a number.');
  });

  it('refuses broken YAML, a key twice, a tab, two documents, an alias bomb and a list', () => {
    expect(errorsOf('paper: A4\nquiet: [1\n')[0]).toMatchObject({ line: 3 });
    expect(errorsOf('paper: A4\npaper: Letter\n')).toMatchObject([
      { line: 2, sentence: expect.stringContaining('twice') },
    ]);
    expect(errorsOf('sources:\n\t- {source: A}\n')[0]?.sentence).toContain('tab');
    expect(errorsOf('paper: A4\n---\npaper: A4\n')[0]?.sentence).toContain('one document');
    const bomb = `a: &a [x, x]\n${Array.from({ length: 30 }, (_, i) => `b${i}: &b${i} [*${i ? `b${i - 1}` : 'a'}, *${i ? `b${i - 1}` : 'a'}]`).join('\n')}`;
    expect(errorsOf(bomb)).toMatchObject([{ sentence: expect.stringContaining('aliases') }]);
    expect(errorsOf('- paper\n')).toMatchObject([{ line: 1, column: 1 }]);
    expect(errorsOf('just words')).toMatchObject([{ line: 1, column: 1 }]);
  });

  it('answers any text with settings or with errors that have a place', () => {
    const line = fc.oneof(
      fc.string(),
      fc.constantFrom(
        'paper: A4',
        'quiet: 3',
        'sources:',
        ' - {source: x',
        '? [a]',
        '!!binary x: y',
        '&a *a',
        '%YAML 1.3',
      ),
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), (lines) => {
        const read = readSettings(lines.join('\n'));
        if (read.ok) return settingsSchema.safeParse(read.settings).success;
        return (
          read.errors.length > 0 &&
          read.errors.every((e) => e.line >= 1 && e.column >= 1 && e.sentence !== '')
        );
      }),
    );
  });
});

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
