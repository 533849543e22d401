import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  closeSync,
  ftruncateSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
  writeSync,
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

/** Reads the one file of a folder as a scan found it, after something was done to it. */
async function readAfter(folder: string, change: (path: string) => void) {
  const [entry] = (await look(folder)).entries;
  if (entry?.kind !== 'file') throw new Error('not a file');
  change(entry.pathBytes.toString());
  return readSteadily(entry.pathBytes, entry.print);
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

/** Puts another file of the same size and modified time in the place of one. */
function replaceUnseen(folder: string, name: string): void {
  const path = join(folder, name);
  utimesSync(path, 1000, 1000);
  writeFileSync(`${path}.new`, 'PICTURE');
  utimesSync(`${path}.new`, 1000, 1000);
  renameSync(`${path}.new`, path);
}

describe('reading a file that must stand still', () => {
  it('gives its bytes and their SHA-256', async () => {
    // FIPS 180-4 example values, "SHA-256 Example (One-Block Message)" and "(Two-Block Message)",
    // published by NIST with the standard; checked once more against sha256sum(1) below.
    const examples = [
      ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
      [
        'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
        '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
      ],
    ] as const;
    for (const [text, sha256] of examples) {
      const folder = freshFolder();
      put(folder, 'a', text);
      const read = keptValue(await readAfter(folder, () => undefined));
      expect(read.sha256).toBe(sha256);
      expect(Buffer.from(read.bytes).toString()).toBe(text);
    }
  });

  it('agrees with sha256sum on a file of several chunks', async () => {
    const folder = freshFolder();
    const bytes = Buffer.alloc(9_000_001, 'chunk of a picture ');
    writeFileSync(join(folder, 'a'), bytes);
    const read = keptValue(await readAfter(folder, () => undefined));
    expect(read.sha256).toBe(
      execFileSync('sha256sum', [join(folder, 'a')])
        .toString()
        .slice(0, 64),
    );
    expect(read.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    expect(Buffer.compare(read.bytes, bytes)).toBe(0);
  });

  it.each<[string, (path: string) => void]>([
    ['grown', (path) => appendFileSync(path, 'x')],
    ['cut short', (path) => truncateSync(path, 3)],
    ['overwritten in place', (path) => writeFileSync(path, 'PICTURE')],
    ['gone', (path) => rmSync(path)],
    [
      'preallocated anew and not yet filled',
      (path) => {
        const file = openSync(path, 'w');
        ftruncateSync(file, 7);
        closeSync(file);
      },
    ],
    ['replaced by one of the same size and modified time', (path) => replaceUnseen(join(path, '..'), 'a')],
  ])('calls a file that was %s since the look changing', async (_, change) => {
    const folder = freshFolder();
    put(folder, 'a');
    utimesSync(join(folder, 'a'), 1000, 1000);
    expect(await readAfter(folder, change)).toEqual({ kind: 'held', reason: { code: 'changing' } });
  });

  it('never gives out a mixture while the file is overwritten in place', async () => {
    const folder = freshFolder();
    const size = 8 * 1024 * 1024;
    const path = join(folder, 'a');
    writeFileSync(path, Buffer.alloc(size, 0));
    const file = openSync(path, 'r+');
    onTestFinished(() => closeSync(file));
    let isDone = false;
    let seen = 0;
    const writer = (async () => {
      for (let value = 1; !isDone; value += 1) {
        for (let at = 0; at < size && !isDone; at += 1 << 20) {
          writeSync(file, Buffer.alloc(1 << 20, value & 255), 0, 1 << 20, at);
          await new Promise((go) => setImmediate(go));
        }
      }
    })();
    for (let round = 0; round < 20; round += 1) {
      const read = await readAfter(folder, () => undefined);
      if (read.kind !== 'kept') {
        seen += 1;
        continue;
      }
      const { bytes } = read.value;
      expect(new Set(Array.from({ length: 8 }, (_, mb) => bytes[mb << 20])).size).toBe(1);
    }
    isDone = true;
    await writer;
    expect(seen).toBeGreaterThan(0);
  });

  it('opens no link, pipe, socket or device that has taken the place of a file, and never hangs', async (context) => {
    const swap = async (make: (path: string) => void) => {
      const folder = freshFolder();
      put(folder, 'a');
      return (await readAfter(folder, (path) => {
        rmSync(path);
        make(path);
      })) as { kind: string; reason: unknown };
    };
    expect((await swap((path) => symlinkSync('/etc/hostname', path))).reason).toEqual({
      code: 'not-a-file',
      what: 'link',
    });
    const pipes = Array.from({ length: 6 }, () => swap((path) => void execFileSync('mkfifo', [path])));
    for (const { reason } of await Promise.all(pipes))
      expect(reason).toEqual({ code: 'not-a-file', what: 'pipe' });
    expect((await swap((path) => mkdirSync(path))).kind).toBe('held');
    const server = createServer();
    onTestFinished(() => void server.close());
    const folder = freshFolder();
    put(folder, 'a');
    const [entry] = (await look(folder)).entries;
    if (entry?.kind !== 'file') throw new Error('not a file');
    rmSync(join(folder, 'a'));
    await new Promise<void>((done) => server.listen(join(folder, 'a'), done));
    expect(await readSteadily(entry.pathBytes, entry.print)).toEqual({
      kind: 'held',
      reason: { code: 'not-a-file', what: 'socket' },
    });
    if (!permits('mknod', join(freshFolder(), 'n'), 'c', '1', '5')) return context.skip('mknod needs root');
    const device = await swap((path) => void execFileSync('mknod', [path, 'c', '1', '5']));
    expect(device.reason).toEqual({ code: 'not-a-file', what: 'device' });
  });

  it('reads nothing beyond the limit and says both sizes', async () => {
    const folder = freshFolder();
    put(folder, 'a', '12345');
    const [entry] = (await look(folder)).entries;
    if (entry?.kind !== 'file') throw new Error('not a file');
    expect(await readSteadily(entry.pathBytes, entry.print, 4)).toEqual({
      kind: 'held',
      reason: { code: 'too-large', bytes: 5, limitBytes: 4 },
    });
    expect((await readSteadily(entry.pathBytes, entry.print, 5)).kind).toBe('kept');
  });
});
