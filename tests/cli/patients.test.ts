import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { freshFolder, noise, writeVisit } from '../app/small-practice.js';
import { runHere } from './run-here.js';

const CLI = new URL('../../bin/scopeleaf.js', import.meta.url).pathname;
const LOCKED = 'private records are locked';

const sidecar = (chart: string, file: string): string =>
  `patient: {chart: ${chart}, names: [Rowan Testcase]}\nvisit: {date: 2026-02-11, state: interim}\ntooth: {fdi: 46}\nimages:\n  - {file: ${file}, stage: orifices, view: microscope}\n`;

let root: string;
let key: string;

/** One practice for all: a visit on file, then encrypted with a key file, originals too. */
beforeAll(async () => {
  const folder = await freshFolder();
  root = join(folder, 'practice');
  key = join(folder, 'practice.key');
  await runHere(['init', root]);
  const visit = await writeVisit(join(root, 'inbox/first'), {
    'a.jpg': await noise(81),
    'visit.yaml': sidecar('A-1', 'a.jpg'),
  });
  expect((await runHere(['intake', visit, '-p', root])).exit).toBe(0);
  const done = await runHere(['patients', 'protect', '--originals', '--key-file', key, '-p', root]);
  expect(done, done.stderr).toMatchObject({ exit: 0 });
}, 240_000);

afterEach(() => {
  vi.unstubAllEnvs();
});

const withKey = (...args: string[]) => runHere([...args, '-p', root, '--key-file', key]);
const without = (...args: string[]) => runHere([...args, '-p', root]);
const caseCode = (): string => readdirSync(join(root, 'cases'))[0] as string;

describe('without the key', () => {
  it('held, sheet, patients, share --list and audit refuse with 3 and say locked', async () => {
    const commands = [
      ['held'],
      ['held', '--json'],
      ['sheet', caseCode()],
      ['patients', 'list'],
      ['patients', 'inbox'],
      ['patients', 'unprotect'],
      ['audit', join(root, 'cases')],
    ];
    for (const command of commands) {
      const ran = await without(...command);
      expect([command[0], ran.exit, ran.stdout]).toEqual([command[0], 3, '']);
      expect(ran.stderr.replace(/\s+/g, ' ')).toContain(LOCKED);
    }
  });

  it.each(['intake', 'watch'])(
    '%s stores originals, encrypted, and holds the visit as locked',
    async (how) => {
      const name = `locked ${how}`;
      const picture = await noise(how.length + 90);
      const visit = await writeVisit(join(root, 'inbox', name), {
        'b.jpg': picture,
        'visit.yaml': sidecar(`B-${how}`, 'b.jpg'),
      });
      const before = readdirSync(join(root, 'private/originals')).length;
      writeFileSync(join(root, 'practice.yaml'), 'quiet: 0\n');
      const ran = how === 'intake' ? await without('intake', visit) : await without('watch', '--once');
      expect(ran.exit).toBe(3);
      expect(ran.stdout.replace(/\s+/g, ' ')).toContain(LOCKED);
      const originals = readdirSync(join(root, 'private/originals'));
      expect(originals).toHaveLength(before + 1);
      expect(originals.every((file) => file.endsWith('.jpg.age'))).toBe(true);
      const items = JSON.parse((await withKey('held', '--json')).stdout) as { visit: string; code: string }[];
      expect(items).toContainEqual(expect.objectContaining({ visit: name, code: 'locked' }));
      const after = await withKey('intake', visit, '--json');
      expect(JSON.parse(after.stdout)).toMatchObject({ status: 'done', pictures: [{ status: 'kept' }] });
      expect(JSON.parse((await withKey('held', '--json')).stdout)).not.toContainEqual(
        expect.objectContaining({ visit: name }),
      );
      expect(readdirSync(join(root, 'private/tmp'))).toEqual([]);
    },
  );
});

describe('with the key', () => {
  it('a key file that practice.yaml or the environment names opens the practice', async () => {
    writeFileSync(join(root, 'practice.yaml'), 'keyFile: ../practice.key\n');
    expect((await without('patients', 'list')).stdout).toContain('A-1; Rowan Testcase');
    writeFileSync(join(root, 'practice.yaml'), '{}\n');
    vi.stubEnv('SCOPELEAF_KEY_FILE', key);
    const listed = JSON.parse((await without('patients', 'list', '--json')).stdout) as { chart: string }[];
    expect(listed[0]).toMatchObject({ chart: 'A-1', cases: [{ tooth: { fdi: 46 } }] });
  });

  it('says a wrong key plainly, and then refuses like without one', async () => {
    const wrong = join(await freshFolder(), 'no such key');
    const ran = await runHere(['sheet', caseCode(), '-p', root, '--key-file', wrong]);
    expect(ran.exit).toBe(3);
    expect(ran.stderr).toContain('The key file is not there');
  });

  it('patients inbox proposes only folders whose every byte is on file, and removes nothing', async () => {
    await writeVisit(join(root, 'inbox/more'), {
      'a.jpg': await noise(81),
      'new.jpg': await noise(82),
      'visit.yaml': sidecar('A-1', 'a.jpg'),
    });
    const proposals = JSON.parse((await withKey('patients', 'inbox', '--json')).stdout) as {
      folder: string;
      removable: boolean;
      because: string | null;
    }[];
    expect(proposals.find(({ folder }) => folder === 'first')).toMatchObject({ removable: true });
    expect(proposals.find(({ folder }) => folder === 'more')).toMatchObject({
      removable: false,
      because: 'not on file: new.jpg',
    });
    expect(existsSync(join(root, 'inbox/first/a.jpg'))).toBe(true);
  });

  it('patients export copies everything readable, into a new folder for the owner alone', async () => {
    const folder = join(await freshFolder(), 'for Rowan');
    const ran = await withKey('patients', 'export', 'a-1', folder, '--json');
    expect(ran.exit, ran.stderr).toBe(0);
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    const files = readdirSync(folder, { recursive: true }) as string[];
    const original = files.find((file) => file.endsWith('/a.jpg')) as string;
    expect(readFileSync(join(folder, original))).toEqual(await noise(81));
    for (const end of ['visit.yaml', 'patient.json', 'case.json', 'referrer.pdf', '-cover-slip.pdf'])
      expect(
        files.some((file) => file.endsWith(end)),
        end,
      ).toBe(true);
    expect((await withKey('patients', 'export', 'A-1', folder)).exit).toBe(2);
    expect((await withKey('patients', 'export', 'A-1', join(root, 'x'))).exit).toBe(2);
    expect((await withKey('patients', 'export', 'nobody', `${folder} 2`)).exit).toBe(2);
    expect(existsSync(`${folder} 2`)).toBe(false);
  });

  it('patients open makes an encrypted cover slip readable', async () => {
    const records = join(root, 'private/records');
    const slip = readdirSync(records).find((name) => name.endsWith('-cover-slip.pdf.age')) as string;
    const folder = join(await freshFolder(), 'slip');
    const ran = await withKey('patients', 'open', join(records, slip), folder);
    expect(ran.exit, ran.stderr).toBe(0);
    expect(
      readFileSync(join(folder, slip.replace(/\.age$/, '')))
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
  });

  it('patients erase asks first where it can, and without a terminal wants --yes', async () => {
    const asked = await withKey('patients', 'erase', 'A-1');
    expect(asked.exit).toBe(2);
    expect(asked.stderr.replace(/\s+/g, ' ')).toContain('Nothing was erased');
    const done = await withKey('patients', 'erase', 'A-1', '--yes', '--json');
    expect(done.exit, done.stderr).toBe(0);
    expect(done.stderr).toContain('local law');
    expect(JSON.parse(done.stdout)).toMatchObject({ cases: 1, inbox: ['first', 'more'] });
    expect((await withKey('patients', 'list')).stdout).not.toContain('A-1');
    const again = await withKey('intake', join(root, 'inbox/first'), '--json');
    expect(JSON.parse(again.stdout)).toMatchObject({ status: 'held', reason: { code: 'erased' } });
    // A locked practice knows it too.
    const locked = await without('intake', join(root, 'inbox/first'), '--json');
    expect(JSON.parse(locked.stdout)).toMatchObject({ status: 'held', reason: { code: 'erased' } });
  });
});

describe('a passphrase', () => {
  it('comes from a file where there is no terminal; a weak one is refused; nothing prompts', async () => {
    const folder = await freshFolder();
    const other = join(folder, 'p');
    const file = join(folder, 'passphrase');
    await runHere(['init', other]);
    const protect = () => runHere(['patients', 'protect', '--passphrase', '-p', other]);
    expect((await protect()).stderr).toContain('no terminal');
    vi.stubEnv('SCOPELEAF_PASSPHRASE_FILE', file);
    writeFileSync(file, 'short\n');
    expect((await protect()).stderr).toContain('too short');
    expect(existsSync(join(other, 'private/key.age'))).toBe(false);
    writeFileSync(file, 'four random words here\n');
    expect((await protect()).exit).toBe(0);
    expect((await runHere(['patients', 'list', '-p', other])).exit).toBe(0);
    writeFileSync(file, 'four random words hero\n');
    const wrong = await runHere(['patients', 'list', '-p', other]);
    expect([wrong.exit, wrong.stderr.includes('does not open')]).toEqual([3, true]);
  }, 120_000);

  it('typed at a terminal is not shown', async (context) => {
    // util-linux's script gives the command a terminal.
    if (spawnSync('script', ['--version']).status !== 0) {
      if (process.env['CI']) throw new Error('the program "script" is missing');
      return context.skip('needs the program "script" for a terminal');
    }
    const folder = await freshFolder();
    const other = join(folder, 'p');
    await runHere(['init', other]);
    const command = `'${process.execPath}' '${CLI}' patients protect --passphrase -p '${other}'`;
    const seen = await typeInto(command, ['New passphrase: ', 'The same again: '], 'correct horse battery\n');
    expect(seen.replace(/\s+/g, ' ')).toContain('are encrypted');
    expect(seen).not.toContain('horse');
  }, 120_000);
});

/** Types a line each time one of the prompts shows, in turn. @returns all that the terminal showed */
function typeInto(command: string, prompts: readonly string[], line: string): Promise<string> {
  const child = spawn('script', ['-qec', command, '/dev/null'], { stdio: ['pipe', 'pipe', 'inherit'] });
  let seen = '';
  let answered = 0;
  child.stdout.on('data', (chunk: Buffer) => {
    seen += chunk.toString();
    const prompt = prompts[answered];
    if (prompt === undefined || !seen.includes(prompt)) return;
    answered += 1;
    child.stdin.write(line);
  });
  return new Promise((resolve) => child.on('close', () => resolve(seen)));
}
