import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  chmodSync,
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
import { type FolderScan, readSteadily, scanVisitFolder } from '../../src/practice/index.js';
import { freshFolder, keptValue, permits, startProcess } from './scratch.js';

const look = async (folder: string): Promise<FolderScan> => keptValue(await scanVisitFolder(folder));

const put = (folder: string, name: string | Buffer, text = 'picture'): Buffer => {
  const path = Buffer.concat([Buffer.from(`${folder}/`), Buffer.from(name)]);
  writeFileSync(path, text);
  return path;
};

/** Reads the one file of a folder as a scan found it, after something was done to it. */
async function readAfter(folder: string, change: (path: string) => void) {
  const [entry] = (await look(folder)).entries;
  if (entry?.kind !== 'file') throw new Error('not a file');
  change(entry.pathBytes.toString());
  return readSteadily(entry.pathBytes, entry.print);
}

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

describe('what the system refuses', () => {
  it('is listed with a reason, without the path, and the readable rest goes on', async (context) => {
    if (process.getuid?.() !== 0) return context.skip('needs root to become someone else');
    const folder = freshFolder();
    put(folder, 'a.jpg');
    mkdirSync(join(folder, 'closed'));
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'a.jpg'), 0);
    chmodSync(join(folder, 'closed'), 0);
    // As nobody (65534), to whom the modes matter.
    const { lines, ended } = startProcess(
      `process.setgid(65534); process.setuid(65534);
       const { value } = await p.scanVisitFolder(args[0]);
       for (const one of value.entries) {
         const read = one.kind === 'file' ? await p.readSteadily(one.pathBytes, one.print) : one;
         say(one.name + ': ' + JSON.stringify(read.reason));
       }`,
      folder,
    );
    await ended;
    const refused = '{"code":"unreadable","what":"access is not allowed, EACCES"}';
    expect(lines).toEqual([`a.jpg: ${refused}`, `closed: ${refused}`]);
  });
});
