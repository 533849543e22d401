import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  mkdirSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import {
  type FolderScan,
  JUNK,
  junkKind,
  readSteadily,
  scanVisitFolder,
  twoLooks,
} from '../../src/practice/index.js';
import { codeOf, freshFolder, keptValue, permits } from './scratch.js';

const look = async (folder: string): Promise<FolderScan> => keptValue(await scanVisitFolder(folder));

const put = (folder: string, name: string | Buffer, text = 'picture'): Buffer => {
  const path = Buffer.concat([Buffer.from(`${folder}/`), Buffer.from(name)]);
  writeFileSync(path, text);
  return path;
};

const reasonOf = (scan: FolderScan, name: string) => {
  const entry = scan.entries.find((one) => one.name === name);
  return entry?.kind === 'refused' ? entry.reason : entry?.kind;
};

/** Puts another file of the same size and modified time in the place of one. */
function replaceUnseen(folder: string, name: string): void {
  const path = join(folder, name);
  utimesSync(path, 1000, 1000);
  writeFileSync(`${path}.new`, 'PICTURE');
  utimesSync(`${path}.new`, 1000, 1000);
  renameSync(`${path}.new`, path);
}

describe('a look at a visit folder', () => {
  it('lists files of the folder and of one level below, by name', async () => {
    const folder = freshFolder();
    mkdirSync(join(folder, 'films/old/er'), { recursive: true });
    for (const name of ['b.jpg', 'a.jpg', 'films/c.tif', 'visit.yaml']) put(folder, name);
    put(folder, 'films/old/d.tif');
    const scan = await look(folder);
    expect(scan.entries.map(({ name, kind }) => [name, kind])).toEqual([
      ['a.jpg', 'file'],
      ['b.jpg', 'file'],
      ['films/c.tif', 'file'],
      ['films/old', 'refused'],
      ['visit.yaml', 'file'],
    ]);
    expect(reasonOf(scan, 'films/old')).toEqual({ code: 'not-a-file', what: 'folder-too-deep' });
    expect(scan.entries[0]).toMatchObject({
      pathBytes: Buffer.from(join(folder, 'a.jpg')),
      print: { size: 7 },
    });
  });

  it('lists pipes, sockets, devices, links and loops with a reason, beside a good picture', async () => {
    const folder = freshFolder();
    put(folder, 'good.jpg');
    execFileSync('mkfifo', [join(folder, 'pipe.jpg')]);
    const server = createServer().listen(join(folder, 'socket.jpg'));
    await new Promise((done) => server.once('listening', done));
    onTestFinished(() => void server.close());
    symlinkSync('/etc/hostname', join(folder, 'outside.jpg'));
    symlinkSync('nowhere', join(folder, 'broken.jpg'));
    symlinkSync('self.jpg', join(folder, 'self.jpg'));
    symlinkSync('..', join(folder, 'up'));
    const scan = await look(folder);
    expect(reasonOf(scan, 'good.jpg')).toBe('file');
    expect(reasonOf(scan, 'pipe.jpg')).toEqual({ code: 'not-a-file', what: 'pipe' });
    expect(reasonOf(scan, 'socket.jpg')).toEqual({ code: 'not-a-file', what: 'socket' });
    for (const name of ['outside.jpg', 'broken.jpg', 'self.jpg', 'up']) {
      expect(reasonOf(scan, name), name).toEqual({ code: 'not-a-file', what: 'link' });
    }
    expect(scan.entries).toHaveLength(7);
  });

  it('lists a device with a reason', async (context) => {
    const folder = freshFolder();
    if (!permits('mknod', join(folder, 'null.jpg'), 'c', '1', '3')) return context.skip('mknod needs root');
    expect(reasonOf(await look(folder), 'null.jpg')).toEqual({ code: 'not-a-file', what: 'device' });
  });

  it('lists an empty file and a name that is not UTF-8, and does not go into a folder with such a name', async () => {
    const folder = freshFolder();
    put(folder, 'empty.jpg', '');
    put(folder, Buffer.from('61ff62', 'hex'));
    mkdirSync(Buffer.concat([Buffer.from(`${folder}/`), Buffer.of(0xfe)]));
    const scan = await look(folder);
    expect(reasonOf(scan, 'empty.jpg')).toEqual({ code: 'empty-file' });
    expect(reasonOf(scan, 'a\uFFFDb')).toEqual({ code: 'name-not-utf8' });
    expect(reasonOf(scan, '\uFFFD')).toEqual({ code: 'name-not-utf8' });
    const bytes = scan.entries.find(({ name }) => name === 'a\uFFFDb')?.pathBytes;
    expect(bytes?.subarray(-3).toString('hex')).toBe('61ff62');
  });

  it('shows composed and decomposed spellings under one name, and reads each by its own bytes', async () => {
    const folder = freshFolder();
    put(folder, 'Zo\u00EB.jpg', 'composed');
    put(folder, 'Zoe\u0308.jpg', 'decomposed');
    const { entries } = await look(folder);
    expect(entries.map(({ name }) => name)).toEqual(['Zo\u00EB.jpg', 'Zo\u00EB.jpg']);
    const texts = await Promise.all(
      entries.map(async (entry) => {
        if (entry.kind !== 'file') throw new Error('not a file');
        return Buffer.from(keptValue(await readSteadily(entry.pathBytes, entry.print)).bytes).toString();
      }),
    );
    expect(texts.sort()).toEqual(['composed', 'decomposed']);
  });

  it('takes odd and long names as they are', async () => {
    const folder = freshFolder();
    const names = [
      'two\nlines.jpg',
      '-rf',
      '*',
      '[1].jpg',
      'back\\slash.jpg',
      'CON.jpg',
      'a:b.jpg',
      'dot.',
      ' space ',
    ];
    names.push('A.JPG', 'a.jpg', `${'n'.repeat(251)}.jpg`, `${'\u00E9'.repeat(127)}x`);
    for (const name of names) put(folder, name);
    const scan = await look(folder);
    expect(scan.entries.map(({ name }) => name)).toEqual(names.map((name) => name.normalize('NFC')).sort());
    expect(scan.entries.every(({ kind }) => kind === 'file')).toBe(true);
  });

  it('ignores junk by the named list, case-blind, and marks what is still arriving', async () => {
    const folder = freshFolder();
    for (const { name } of JUNK) put(folder, name.replace('*', 'x.jpg'));
    mkdirSync(join(folder, '@EADIR'));
    put(folder, '@EADIR/thumb.jpg');
    put(folder, 'IMG_1.JPG');
    const scan = await look(folder);
    expect(scan.entries.map(({ name }) => name)).toEqual(['IMG_1.JPG']);
    expect(scan.ignored).toHaveLength(JUNK.length + 1);
    expect(scan.ignored.filter(({ partial }) => partial)).toHaveLength(
      JUNK.filter(({ partial }) => partial).length,
    );
    for (const name of ['part.jpg', 'visit.yaml', 'tmp', 'apart', 'thumbs.db.jpg', 'DS_Store'])
      expect(junkKind(name)).toBeNull();
  });

  it('answers a missing folder and a file with data', async () => {
    const folder = freshFolder();
    put(folder, 'a');
    expect(await scanVisitFolder(join(folder, 'a'))).toEqual({
      kind: 'failed',
      reason: { code: 'unreadable', what: 'it is not a folder' },
    });
    expect(codeOf(await scanVisitFolder(join(folder, 'Jane Doe')))).toBe('unreadable');
    expect((await look(freshFolder())).entries).toEqual([]);
  });

  it('sees in a second look what is new, gone, grown or replaced', async () => {
    const folder = freshFolder();
    for (const name of ['still', 'gone', 'grown', 'same size']) put(folder, name);
    const earlier = await look(folder);
    expect(twoLooks(earlier, await look(folder))).toEqual([]);
    rmSync(join(folder, 'gone'));
    appendFileSync(join(folder, 'grown'), 'more');
    put(folder, 'new');
    replaceUnseen(folder, 'same size');
    expect(twoLooks(earlier, await look(folder))).toEqual(['gone', 'grown', 'new', 'same size']);
  });
});
