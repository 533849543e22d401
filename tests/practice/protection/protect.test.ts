import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import {
  beginProtection,
  finishProtection,
  isProtectedAsOpened,
  loadPatients,
  openPractice,
  type Practice,
  readWholeJournal,
  unlockWithKeyFile,
  unlockWithPassphrase,
  unprotect,
} from '../../../src/practice/index.js';
import { codeOf, freshFolder, freshPractice, keptValue, permits, reopen } from '../scratch.js';
import { BOOK, filesWith, fill, keyFile, NAME, protect, protectedPractice } from './protected.js';

const quiet = (): void => undefined;
const PASSPHRASE = { how: 'passphrase', passphrase: 'four random words here', workFactor: 8 } as const;

/** Every file of private/ but the lock, with its bytes. */
const stateOf = (practice: Practice): Map<string, string> =>
  new Map(
    readdirSync(practice.paths.private, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .sort()
      .map((path) => [path, readFileSync(path, 'latin1')]),
  );

describe('protecting', () => {
  it('and unprotecting gives every file back as it was', async () => {
    const practice = await freshPractice();
    await fill(practice);
    const before = stateOf(practice);
    const open = await protect(practice, PASSPHRASE);
    expect(filesWith(open, NAME)).toEqual([]);
    keptValue(await unprotect(open, quiet));
    expect(stateOf(practice)).toEqual(before);
  });

  it('leaves pictures in clear unless asked, and takes them in later', async () => {
    const { open } = await protectedPractice(false);
    expect(filesWith(open, NAME)).toEqual([expect.stringMatching(/^originals\/[0-9a-f]{64}\.jpg$/)]);
    const protection = open.protection ? { ...open.protection, originals: true } : null;
    keptValue(await finishProtection({ ...open, protection }, quiet));
    expect(filesWith(open, NAME)).toEqual([]);
  });

  it.each([1, 4, 8, 11])('killed after %i files is gone on with, and reads in between', async (files) => {
    const practice = await freshPractice();
    await fill(practice);
    const before = stateOf(practice);
    const begun = keptValue(await beginProtection(practice, { how: 'key-file', path: keyFile() }, true));
    if (!begun.ok) throw new Error(begun.why);
    const open = { ...practice, protection: begun.protection };
    await killed(finishProtection, open, files);
    const half = filesWith(practice, NAME).length;
    expect(half).toBeGreaterThan(0);
    expect(keptValue(await loadPatients(open))).toEqual(BOOK);
    expect(keptValue(await readWholeJournal(open))).toHaveLength(2);
    expect(codeOf(await loadPatients(await reopen(practice.root)))).toBe('locked');
    const whole = keptValue(await finishProtection(open, quiet)).practice;
    expect(filesWith(practice, NAME)).toEqual([]);
    await killed(unprotect, whole, files);
    expect(keptValue(await loadPatients(whole))).toEqual(BOOK);
    keptValue(await unprotect(whole, quiet));
    expect(stateOf(practice)).toEqual(before);
  });

  it('is noticed by a command that was started before', async () => {
    const practice = await freshPractice();
    expect(keptValue(await isProtectedAsOpened(practice))).toBe(true);
    const open = await protect(practice, { how: 'key-file', path: keyFile() });
    expect(keptValue(await isProtectedAsOpened(practice))).toBe(false);
    expect(keptValue(await isProtectedAsOpened(open))).toBe(true);
  });

  it('refuses a key file inside the practice, and writes over no file that holds no key', async () => {
    const practice = await freshPractice();
    for (const path of [join(practice.root, 'k'), join(practice.paths.private, 'k')]) {
      const made = keptValue(await beginProtection(practice, { how: 'key-file', path }, false));
      expect(made).toEqual({ ok: false, why: 'inside-practice' });
    }
    const path = keyFile();
    writeFileSync(path, 'a shopping list');
    const made = keptValue(await beginProtection(practice, { how: 'key-file', path }, false));
    expect(made).toEqual({ ok: false, why: 'no-key-in-file' });
    expect(readFileSync(path, 'utf8')).toBe('a shopping list');
    expect(existsSync(practice.paths.protection)).toBe(false);
  });

  it('refuses a key file in a folder that is not there, as of a stick that is not connected', async () => {
    const practice = await freshPractice();
    const path = join(practice.root, '..', 'no stick', 'practice.key');
    const made = keptValue(await beginProtection(practice, { how: 'key-file', path }, false));
    expect(made).toEqual({ ok: false, why: 'no-folder' });
    expect(existsSync(practice.paths.protection)).toBe(false);
  });

  it('sets aside, and never loses, a key that an earlier try left behind', async () => {
    const practice = await freshPractice();
    writeFileSync(practice.paths.key, 'an old key');
    await protect(practice, PASSPHRASE);
    expect(readFileSync(join(practice.paths.private, 'key-old-1.age'), 'utf8')).toBe('an old key');
  });
});

/** Runs until so many files are looked at, then breaks off as a kill does. */
async function killed(
  work: (practice: Practice, progress: (done: number) => void) => Promise<unknown>,
  practice: Practice,
  files: number,
): Promise<void> {
  const outcome = await work(practice, (done) => {
    if (done === files) throw new Error('killed');
  });
  expect(outcome).toMatchObject({ kind: 'failed' });
}

describe('unlocking', () => {
  it('opens with the passphrase, says a wrong one plainly, and changes nothing', async () => {
    const practice = await freshPractice();
    await fill(practice);
    await protect(practice, PASSPHRASE);
    const locked = await reopen(practice.root);
    const before = stateOf(locked);
    const wrong = await unlockWithPassphrase(locked, 'four random words hero');
    expect(wrong).toEqual({ ok: false, trouble: { kind: 'wrong-passphrase' } });
    const right = await unlockWithPassphrase(locked, PASSPHRASE.passphrase);
    expect(right.ok && keptValue(await loadPatients(right.practice))).toEqual(BOOK);
    expect(stateOf(locked)).toEqual(before);
  });

  it('tells a damaged or missing key from a wrong passphrase', async () => {
    const practice = await freshPractice();
    await protect(practice, PASSPHRASE);
    const locked = await reopen(practice.root);
    const bytes = readFileSync(locked.paths.key);
    const damaged = Buffer.from(bytes);
    damaged[100] = damaged[100] === 65 ? 66 : 65;
    writeFileSync(locked.paths.key, damaged);
    const tried = await unlockWithPassphrase(locked, PASSPHRASE.passphrase);
    expect(tried).toEqual({ ok: false, trouble: { kind: 'key-damaged', absent: false } });
    rmSync(locked.paths.key);
    const again = await unlockWithPassphrase(locked, PASSPHRASE.passphrase);
    expect(again).toEqual({ ok: false, trouble: { kind: 'key-damaged', absent: true } });
  });

  it('tells a key file that is absent, holds no key, or is of another practice', async () => {
    const { locked } = await protectedPractice();
    const other = await protectedPractice();
    const list = keyFile();
    writeFileSync(list, '# nothing here\n');
    const tried = await Promise.all(
      [keyFile(), list, freshFolder(), other.key].map((path) => unlockWithKeyFile(locked, path)),
    );
    expect(tried.map((one) => !one.ok && one.trouble.kind)).toEqual([
      'key-file-absent',
      'no-key-in-file',
      expect.stringMatching(/no-key-in-file|key-file-unreadable/),
      'other-key',
    ]);
    expect(statSync(other.key).mode & 0o777).toBe(0o600);
  });

  it('refuses to open a practice whose records are encrypted while protection.json is gone or damaged', async () => {
    const { locked } = await protectedPractice();
    const bytes = readFileSync(locked.paths.protection);
    writeFileSync(locked.paths.protection, bytes.subarray(0, 40));
    expect(await openPractice(locked.root)).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('private/protection.json') }],
    });
    rmSync(locked.paths.protection);
    expect(await openPractice(locked.root)).toMatchObject({
      ok: false,
      errors: [{ sentence: expect.stringContaining('private/protection.json') }],
    });
  });
});

describe('private/', () => {
  it('is closed again at each start, with what is secret in it, also where it lies elsewhere', async () => {
    const { root, paths } = await freshPractice();
    const place = join(root, '../elsewhere');
    writeFileSync(paths.settingsFile, 'private: ../elsewhere\n');
    renameSync(paths.private, place);
    chmodSync(place, 0o777);
    chmodSync(join(place, 'originals'), 0o755);
    chmodSync(join(place, 'secret'), 0o644);
    await reopen(root);
    const modes = ['', 'originals', 'secret'].map((name) => statSync(join(place, name)).mode & 0o777);
    expect(modes).toEqual([0o700, 0o700, 0o600]);
  });

  it('that belongs to somebody else is taken over where that is allowed', async (context) => {
    if (process.getuid?.() !== 0) return context.skip('needs root to give a folder away');
    const { root, paths } = await freshPractice();
    chownSync(paths.private, 12_345, 12_345);
    await reopen(root);
    expect(statSync(paths.private).uid).toBe(0);
    // All of it given to one person, whom an administrator helps: it stays theirs.
    chownSync(root, 12_345, 12_345);
    chownSync(paths.private, 12_345, 12_345);
    await reopen(root);
    expect(statSync(paths.private).uid).toBe(12_345);
  });

  it('that cannot be closed or taken over is refused, with what to do', async (context) => {
    const disk = freshFolder();
    if (!permits('mount', '-t', 'tmpfs', 'tmpfs', disk)) return context.skip('needs the right to mount');
    onTestFinished(() => {
      execFileSync('umount', [disk]);
    });
    const { root, paths } = await freshPractice();
    const place = join(disk, 'private');
    cpSync(paths.private, place, { recursive: true });
    writeFileSync(paths.settingsFile, `private: ${place}\n`);
    for (const [owner, mode, words] of [
      [0, 0o755, 'know no rights'],
      [12_345, 0o700, 'belongs to another user'],
    ] as const) {
      execFileSync('mount', ['-o', 'remount,rw', disk]);
      chownSync(place, owner, owner);
      chmodSync(place, mode);
      execFileSync('mount', ['-o', 'remount,ro', disk]);
      const opened = await openPractice(root);
      expect(opened).toMatchObject({ ok: false, errors: [{ sentence: expect.stringContaining(words) }] });
    }
  });
});
