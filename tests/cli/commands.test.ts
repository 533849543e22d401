import { execFileSync } from 'node:child_process';
import { existsSync, statSync, symlinkSync, utimesSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { VisitReport } from '../../src/app/report.js';
import { freshFolder, noise, reopen, snapshot, writeVisit } from '../app/small-practice.js';
import { scopeleaf } from './run-cli.js';
import { runHere } from './run-here.js';

const A = await noise(11);
const B = await noise(12);

const sidecar = (images: string[], more: string[] = []): string =>
  ['patient: {chart: A-20417, names: [Rowan Testcase]}', 'visit: {date: 2026-02-11, state: interim}', ...more]
    .concat(more.some((line) => line.startsWith('tooth')) ? [] : ['tooth: {fdi: 46}'])
    .concat(
      'images:',
      images.map((image) => `  - ${image}`),
      '',
    )
    .join('\n');

const STILL = '{file: a.jpg, stage: orifices, view: microscope, caption: Floor}';
const SECOND = '{file: b.jpg, stage: access, view: microscope}';

async function practiceWith(
  files: Record<string, string | Uint8Array>,
): Promise<{ root: string; visit: string }> {
  const root = join(await freshFolder(), 'practice');
  expect((await runHere(['init', root])).exit).toBe(0);
  const visit = await writeVisit(join(root, 'inbox', '2026-02-11 room 2'), files);
  return { root, visit };
}

const parse = (text: string): VisitReport => JSON.parse(text) as VisitReport;

describe('help', () => {
  it.each(['init', 'check', 'draft', 'intake', 'watch', 'held', 'sheet', 'schema', 'demo'])(
    '%s shows two examples and its exit codes, within 80 columns',
    async (command) => {
      const { exit, stdout } = await runHere([command, '--help']);
      expect(exit).toBe(0);
      expect(stdout.match(/^ {2}scopeleaf /gm)).toHaveLength(2);
      expect(stdout).toMatch(/Exit codes:\n {2}0 {2}/);
      expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
    },
  );

  it('ends with 2 for an unknown command or flag, and says so', async () => {
    expect((await runHere(['intaek'])).exit).toBe(2);
    const { exit, stderr } = await runHere(['intake', '--wrong', 'x']);
    expect(exit).toBe(2);
    expect(stderr).toContain('--wrong');
  });
});

describe('intake', () => {
  it('prints one object with the agreed keys and ends with 0', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(0);
    const report = parse(stdout);
    expect(report).toMatchObject({ visit: '2026-02-11 room 2', status: 'done', revision: 1, errors: [] });
    expect(report.case).toMatch(/^[0-9A-HJKMNP-TV-Z]{6}$/);
    expect(report.pictures).toEqual([
      {
        source: 'a.jpg',
        sha256: execFileSync('sha256sum', [join(visit, 'a.jpg')], { encoding: 'utf8' }).slice(0, 64),
        status: 'kept',
        image: `cases/${report.case}/images/01-orifices.jpg`,
        covered: 0,
        look: [],
      },
    ]);
    expect(report.sheets).toEqual([`cases/${report.case}/sheets/referrer.pdf`]);
    for (const file of [...report.sheets, report.pictures[0]?.image as string])
      expect(existsSync(join(root, file))).toBe(true);
    for (const finding of report.findings) {
      expect(Object.keys(finding).sort()).toEqual(['code', 'level', 'sentence', 'source']);
    }
  });

  it('finds the practice by the environment and by the folder above', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    expect((await scopeleaf(['intake', visit], { env: { SCOPELEAF_PRACTICE: root } })).exit).toBe(0);
    const again = await scopeleaf(['intake', visit, '--json'], { cwd: visit });
    expect(parse(again.stdout).status).toBe('duplicate');
    const { exit, stderr } = await scopeleaf(['intake', visit], { cwd: '/' });
    expect(exit).toBe(2);
    expect(stderr).toMatch(/practice/);
  });

  it('ends with 3 when one picture is damaged, and still makes the sheet from the others', async () => {
    const cut = B.subarray(0, B.length >> 1);
    const { root, visit } = await practiceWith({
      'a.jpg': A,
      'b.jpg': cut,
      'visit.yaml': sidecar([STILL, SECOND]),
    });
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(3);
    const report = parse(stdout);
    expect(report.status).toBe('done');
    expect(report.pictures.map(({ status }) => status)).toEqual(['kept', 'held']);
    expect(report.pictures[1]?.reason?.code).toBe('damaged');
    expect(report.sheets).toHaveLength(1);
    const held = await runHere(['held', '-p', root, '--json']);
    expect(held.exit).toBe(3);
    expect(JSON.parse(held.stdout)).toMatchObject([
      { case: report.case, what: 'picture', name: 'b.jpg', code: 'damaged' },
    ]);
  });

  it('refuses an impossible tooth with exit 2, stores the originals and makes no case', async () => {
    const { root, visit } = await practiceWith({
      'a.jpg': A,
      'visit.yaml': sidecar([STILL], ['tooth: {fdi: 49}']),
    });
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(2);
    const report = parse(stdout);
    expect(report).toMatchObject({ status: 'refused', case: null });
    expect(report.errors[0]).toMatchObject({
      file: 'visit.yaml',
      line: 3,
      field: expect.stringMatching(/^tooth/),
    });
    const sha256 = report.pictures[0]?.sha256;
    expect(await readFile(join(root, 'private', 'originals', `${sha256}.jpg`))).toEqual(Buffer.from(A));
    expect(execFileSync('ls', [join(root, 'cases')], { encoding: 'utf8' })).toBe('');
  });

  it('holds an entry with a misspelt stage, with line, column and the nearest word, and goes on', async () => {
    const wrong = '{file: b.jpg, stage: acess, view: microscope}';
    const { root, visit } = await practiceWith({
      'a.jpg': A,
      'b.jpg': B,
      'visit.yaml': sidecar([STILL, wrong]),
    });
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(3);
    const report = parse(stdout);
    const error = report.errors[0];
    expect(error).toMatchObject({
      file: 'visit.yaml',
      line: 6,
      column: 26,
      field: 'images[1].stage',
      got: 'acess',
    });
    expect(error?.allowed).toContain('access');
    expect(error?.sentence).toContain('Did you mean "access"?');
    expect(report.pictures.map(({ status }) => status)).toEqual(['kept', 'held']);
  });

  it('lists pipes, links, empty files and unknown files with a reason, and never hangs', async () => {
    const { root, visit } = await practiceWith({
      'a.jpg': A,
      'empty.jpg': '',
      'notes.txt': 'not a picture',
      'visit.yaml': sidecar([STILL]),
      '.DS_Store': 'junk',
    });
    execFileSync('mkfifo', [join(visit, 'pipe.jpg')]);
    symlinkSync('/etc/hostname', join(visit, 'link.jpg'));
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(3);
    const by = Object.fromEntries(
      parse(stdout).pictures.map((one) => [one.source, one.reason?.code ?? one.status]),
    );
    expect(by).toEqual({
      'a.jpg': 'kept',
      'empty.jpg': 'empty-file',
      'link.jpg': 'not-a-file',
      'notes.txt': 'unknown-format',
      'pipe.jpg': 'not-a-file',
    });
  });

  it('prints an array for two teeth in one sidecar, one case each', async () => {
    const text = `${sidecar([STILL])}---\ntooth: {fdi: 47}\nimages:\n  - {file: b.jpg, stage: access, view: microscope}\n`;
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'b.jpg': B, 'visit.yaml': text });
    const { exit, stdout } = await runHere(['intake', visit, '-p', root, '--json']);
    expect(exit).toBe(0);
    const reports = JSON.parse(stdout) as VisitReport[];
    expect(reports.map(({ status }) => status)).toEqual(['done', 'done']);
    expect(new Set(reports.map((report) => report.case)).size).toBe(2);
    expect(reports.map((report) => report.pictures.map(({ source }) => source))).toEqual([
      ['a.jpg'],
      ['b.jpg'],
    ]);
  });
});

describe('a folder that is no visit', () => {
  it('ends with 2 before any other folder is touched, names it, and leaves stdout to programs', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    const gone = join(root, 'inbox', 'gone');
    for (const command of ['intake', 'check']) {
      const { exit, stdout, stderr } = await runHere([command, visit, gone, '-p', root, '--json']);
      expect([exit, stdout]).toEqual([2, '']);
      expect(stderr.replace(/\s+/g, ' ')).toContain(`There is no folder "${gone}"`);
    }
    expect((await runHere(['intake', root, '-p', root])).exit).toBe(2);
    expect(await readdir(join(root, 'private', 'originals'))).toEqual([]);
  });
});

describe('check', () => {
  it('says what intake would say and writes nothing', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    const practice = await reopen(root);
    const before = await snapshot(practice);
    const { exit, stdout } = await runHere(['check', visit, '-p', root, '--json']);
    expect(exit).toBe(0);
    expect(parse(stdout)).toMatchObject({ status: 'done', case: null, sheets: [] });
    expect(await snapshot(practice)).toEqual(before);
  });

  it('waits with exit 0 while a listed picture is absent; intake holds it with its line', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL, SECOND]) });
    const checked = await runHere(['check', visit, '-p', root, '--json']);
    expect([checked.exit, parse(checked.stdout).status]).toEqual([0, 'waiting']);
    const taken = await runHere(['intake', visit, '-p', root, '--json']);
    expect(taken.exit).toBe(3);
    const absent = parse(taken.stdout).pictures.find(({ source }) => source === 'b.jpg');
    expect(absent).toMatchObject({ status: 'held', sha256: null, reason: { code: 'listed-absent' } });
    expect(absent?.reason?.sentence).toContain('line 6');
  });
});

describe('watch --once', () => {
  it('takes in what is complete and leaves what waits, with exit 0', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    await writeFile(join(root, 'practice.yaml'), 'quiet: 0.2\n');
    await writeVisit(join(root, 'inbox', 'incomplete'), {
      'b.jpg': B,
      'visit.yaml': sidecar([STILL, SECOND], ['tooth: {fdi: 36}']),
    });
    const { exit, stdout } = await runHere(['watch', '--once', '-p', root, '--json']);
    expect(exit).toBe(0);
    const reports = stdout.trim().split('\n').map(parse);
    const by = Object.fromEntries(reports.map((report) => [report.visit, report.status]));
    expect(by).toEqual({ '2026-02-11 room 2': 'done', incomplete: 'waiting' });
    expect(await readFile(join(visit, 'a.jpg'))).toEqual(Buffer.from(A));
  });

  it('ends with 1 when the machine is in the way, and says what to do', async () => {
    const { root } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    await writeFile(join(root, 'practice.yaml'), 'quiet: 0.2\n');
    await writeFile(join(root, 'private', 'patients'), 'not a patient book');
    const { exit, stderr } = await runHere(['watch', '--once', '-p', root]);
    expect(exit).toBe(1);
    expect(stderr).toContain('private/patients cannot be read');
  });

  it('makes a draft for a folder without a sidecar and says what it waits for', async () => {
    const { root } = await practiceWith({ 'a.jpg': A, 'b.jpg': B });
    await writeFile(join(root, 'practice.yaml'), 'quiet: 0.2\n');
    const { exit, stdout } = await runHere(['watch', '--once', '-p', root]);
    expect(exit).toBe(0);
    expect(stdout).toContain('waiting for visit.yaml');
    const draft = join(root, 'private', 'drafts', '2026-02-11 room 2');
    expect(existsSync(join(draft, 'contact-sheet.pdf'))).toBe(true);
    const text = await readFile(join(draft, 'visit.yaml'), 'utf8');
    expect(text).toContain('file: "a.jpg"');
  });
});

describe('a practice that is misconfigured', () => {
  it('ends with 2 and the line of the mistake, and touches nothing', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    await writeFile(join(root, 'practice.yaml'), 'paper: A5\nquite: 3\n');
    const { exit, stderr } = await runHere(['intake', visit, '-p', root]);
    expect(exit).toBe(2);
    expect(stderr).toContain('practice.yaml:1:');
    expect(stderr).toContain('practice.yaml:2:');
    expect(execFileSync('ls', [join(root, 'private', 'originals')], { encoding: 'utf8' })).toBe('');
  });
});

describe('sheet', () => {
  it('rebuilds the same bytes, checks a template and names what is wrong in it', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    const report = parse((await runHere(['intake', visit, '-p', root, '--json'])).stdout);
    const sheet = join(root, report.sheets[0] as string);
    const first = await readFile(sheet);
    const again = await scopeleaf(['sheet', report.case as string, '-p', root, '--max-mb', '5'], {
      env: { TZ: 'Pacific/Auckland' },
    });
    expect(again.exit).toBe(0);
    expect(await readFile(sheet)).toEqual(first);
    const bad = join(root, 'templates', 'mine.yaml');
    await writeFile(bad, 'template: mine\naudience: referrer\nblocks:\n  - block: nonsense\n');
    const checked = await runHere(['sheet', report.case as string, '-p', root, '--check-template', bad]);
    expect(checked.exit).toBe(2);
    expect(checked.stderr).toMatch(/mine\.yaml:4:\d+: blocks\[0\]/);
    const asked = await runHere(['sheet', report.case as string, '-p', root, '-t', 'nope', '--json']);
    expect([asked.exit, JSON.parse(asked.stdout).sheets, JSON.parse(asked.stdout).errors.length]).toEqual([
      2,
      [],
      1,
    ]);
    expect((await runHere(['sheet', 'ZZZZZZ', '-p', root])).exit).toBe(2);
  });

  it('gives every file outside private and the inbox one constant time', async () => {
    const { root, visit } = await practiceWith({ 'a.jpg': A, 'visit.yaml': sidecar([STILL]) });
    utimesSync(join(visit, 'a.jpg'), new Date(), new Date());
    await runHere(['intake', visit, '-p', root]);
    const found = execFileSync(
      'find',
      [
        join(root, 'cases'),
        join(root, 'outbox'),
        '!',
        '-newermt',
        '2000-01-01 00:00:00 UTC',
        '-newermt',
        '1999-12-31 23:59:59 UTC',
      ],
      { encoding: 'utf8' },
    );
    const all = execFileSync('find', [join(root, 'cases'), join(root, 'outbox')], { encoding: 'utf8' });
    expect(found).toBe(all);
    expect(statSync(join(root, 'practice.yaml')).mtime.toISOString()).toBe('2000-01-01T00:00:00.000Z');
  });
});

describe('schema', () => {
  it('prints a JSON Schema', async () => {
    const { exit, stdout } = await runHere(['schema']);
    expect(exit).toBe(0);
    expect(JSON.parse(stdout).$schema).toBe('https://json-schema.org/draft/2020-12/schema');
  });
});
