import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { freshFolder, freshPractice } from '../app/small-practice.js';
import { scopeleaf } from './run-cli.js';
import { runHere } from './run-here.js';

async function folderOf(files: Record<string, string | Uint8Array>): Promise<string> {
  const folder = await freshFolder();
  for (const [name, content] of Object.entries(files)) await writeFile(join(folder, name), content);
  return folder;
}

describe('scopeleaf audit, without a practice', () => {
  it('ends with 0 when nothing is found, and says that it knew no names', async () => {
    const folder = await folderOf({ 'note.txt': 'MB to 30/.04 at 20.5 mm' });
    const ran = await scopeleaf(['audit', 'note.txt', '--json'], { cwd: folder });
    expect(ran.exit).toBe(0);
    expect(JSON.parse(ran.stdout)).toEqual({ clean: true, hits: [], possible: [], unread: [] });
    expect(ran.stderr).toContain('no names');
  });

  it('ends with 4 and tells file, place and kind, never the value', async () => {
    const folder = await folderOf({
      'note.txt': 'For quill elsewhere, call +44 20 7946 0999',
      'names.list': 'Quill Elsewhere\n\n',
    });
    const args = ['audit', 'note.txt', '--terms', 'names.list'];
    const ran = await scopeleaf([...args, '--json'], { cwd: folder });
    expect(ran.exit).toBe(4);
    expect(JSON.parse(ran.stdout)).toEqual({
      clean: false,
      hits: [
        { file: 'note.txt', where: 'text', kind: 'term' },
        { file: 'note.txt', where: 'text', kind: 'phone' },
      ],
      possible: [],
      unread: [],
    });
    const spoken = await scopeleaf(args, { cwd: folder });
    expect(spoken.exit).toBe(4);
    expect(spoken.stdout).toContain('note.txt: a telephone number (text)');
    expect(`${spoken.stdout}${spoken.stderr}${ran.stdout}`).not.toMatch(/quill|elsewhere|7946/i);
  });

  it('ends with 3 when something could not be read, and never says clean', async () => {
    const folder = await folderOf({ 'odd.bin': Buffer.from([0, 1, 2, 250]) });
    const ran = await scopeleaf(['audit', '.', '--json'], { cwd: folder });
    expect(ran.exit).toBe(3);
    const said = JSON.parse(ran.stdout);
    expect(said.clean).toBe(false);
    expect(said.unread[0].reason.code).toBe('unknown-format');
  });

  it('ends with 2 for a path that is not there, a list that is not there, and no path', async () => {
    const folder = await folderOf({ 'note.txt': 'x' });
    for (const args of [['nowhere'], ['note.txt', '--terms', 'nowhere'], []]) {
      expect((await scopeleaf(['audit', ...args], { cwd: folder })).exit).toBe(2);
    }
  });
});

describe('scopeleaf audit, in a practice', () => {
  it('allows the letterhead, and says what private/ and inbox/ are', async () => {
    const practice = await freshPractice();
    await writeFile(practice.paths.settingsFile, 'letterhead: [Tel +44 20 7946 0999]\n');
    const visit = join(practice.paths.inbox, 'a');
    await mkdir(visit, { recursive: true });
    await writeFile(join(visit, 'note.txt'), 'Tel +44 20 7946 0999');
    const ran = await runHere(['audit', visit, '-p', practice.root, '--json']);
    expect(JSON.parse(ran.stdout).hits).toEqual([]);
    expect(ran.exit).toBe(0);
    expect(ran.stderr).toContain('inbox/');
  });

  it('names a practice that is not there as wrong usage', async () => {
    const folder = await folderOf({ 'note.txt': 'x' });
    expect((await runHere(['audit', join(folder, 'note.txt'), '-p', folder])).exit).toBe(2);
  });
});
