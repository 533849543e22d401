import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { quietPorts, takeIn } from '../app/share/given.js';
import { freshPractice } from '../app/small-practice.js';
import { runHere } from './run-here.js';

let root = '';
let code = '';

beforeAll(async () => {
  const practice = await freshPractice();
  root = practice.root;
  code = await takeIn(practice, quietPorts());
});

const run = (...args: string[]) => runHere([...args, '-p', root]);

describe('the help of review and share', () => {
  it.each(['review', 'share'])(
    '%s shows two examples and its exit codes, within 80 columns',
    async (command) => {
      const { exit, stdout } = await runHere([command, '--help']);
      expect(exit).toBe(0);
      expect(stdout.match(/^ {2}scopeleaf /gm)).toHaveLength(2);
      expect(stdout).toMatch(/Exit codes:\n {2}0 {2}/);
      expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
    },
  );
});

describe('wrong usage ends with 2 and writes nothing', () => {
  it.each([
    ['share'],
    ['share', 'CODE'],
    ['share', 'CODE', '--to', ' '],
    ['share', 'CODE', '--to', 'Dr Example', '--reviewed-by', '42'],
    ['share', 'CODE', '--to', 'Dr Example', '-t', 'no-such'],
    ['share', 'CODE', '--to', 'Dr Example', '--basis', 'whim'],
    ['share', 'ZZZZZZ', '--to', 'Dr Example'],
    ['review', 'CODE'],
    ['review', 'CODE', '--by', 'A1'],
    ['review', 'CODE', '--by', 'AB', '-t', 'no-such'],
    ['review', 'ZZZZZZ', '--by', 'AB'],
  ])('%s %s %s %s', async (...words) => {
    const { exit, stdout, stderr } = await run(...words.map((word) => (word === 'CODE' ? code : word)));
    expect(exit).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).not.toBe('');
    expect(existsSync(join(root, 'private/reviews.jsonl'))).toBe(false);
  });
});

describe('review and share in a row', () => {
  it('lists nothing, reviews, shares, and lists it', async () => {
    expect(await run('share', '--list')).toMatchObject({ exit: 0, stdout: 'Nothing has been shared.\n' });
    expect(await run('share', '--list', '--json')).toMatchObject({ exit: 0, stdout: '[]\n' });

    const reviewed = await run('review', code.toLowerCase(), '--by', 'AB');
    expect(reviewed.exit).toBe(0);
    expect(reviewed.stdout).toContain('no place in its pictures is marked for a look');
    expect(reviewed.stdout.replace(/\s+/g, ' ')).toContain('Initials do not prove who looked');

    // The audit is the real one here, with the models.
    const shared = await run('share', code, '--to', 'Dr Example', '--json');
    expect(shared.stderr).toBe('');
    expect(shared.exit).toBe(0);
    const report = JSON.parse(shared.stdout);
    expect(report).toMatchObject({ shared: true, reasons: [], version: 1, replaces: null, by: 'AB' });
    expect(report.sha256).toMatch(/^[0-9a-f]{64}$/);
    for (const { name } of report.files) expect(existsSync(join(root, report.outbox, name))).toBe(true);

    const listed = await run('share', '--list');
    expect(listed.stdout).toContain('Dr Example');
    expect(listed.stdout).toContain(`code ${report.shareCode}`);
    expect(JSON.parse((await run('share', '--list', '--json')).stdout)).toMatchObject([
      { to: 'Dr Example', status: 'shared', outdated: false, case: code },
    ]);
    expect(readFileSync(join(root, 'private/journal'), 'utf8')).not.toContain('Dr Example');
  }, 180_000);

  it('ends with 3 where there is no sheet, or one that nobody has seen', async () => {
    rmSync(join(root, 'cases', code, 'sheets'), { recursive: true });
    const reviewed = await run('review', code, '--by', 'AB');
    expect(reviewed.exit).toBe(3);
    expect(reviewed.stderr).toContain(`scopeleaf sheet ${code}`);
  });
});
