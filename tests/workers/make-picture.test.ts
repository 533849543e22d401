import { createHash } from 'node:crypto';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openWorkers, type PictureWorkers } from '../../src/workers/index.js';
import { writeBomb } from '../stages/render/write-png.js';

let folder: string;
let photograph: Buffer;
let workers: PictureWorkers;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'workers-'));
  photograph = await takePhotograph();
  workers = openWorkers({ size: 1 });
});

afterAll(async () => {
  await workers.close();
  await rm(folder, { recursive: true });
});

/** Large enough that the decoder alone does not notice a missing end marker. */
const takePhotograph = (): Promise<Buffer> =>
  sharp(
    Uint8Array.from({ length: 2000 * 1500 * 3 }, (_, at) => (at * 7919 + (at >> 7)) % 253),
    { raw: { width: 2000, height: 1500, channels: 3 } },
  )
    .withExif({ IFD0: { Artist: 'planted' } })
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 90, optimizeCoding: false })
    .toBuffer();

async function put(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

/** What intake asks for, in its order: identify first, then make. */
async function takeIn(name: string, bytes: Uint8Array) {
  const path = await put(name, bytes);
  const facts = await workers.identify({ path, name });
  if (facts.kind !== 'kept') return facts;
  const into = { display: join(folder, 'display'), stripped: join(folder, 'stripped') };
  return workers.make({ path, facts: facts.value, radiograph: false, flip: false, into });
}

describe('a photograph', () => {
  test('is identified, stripped and drawn upright in a child process', async () => {
    const bytes = photograph;
    expect((await sharp(bytes).metadata()).orientation).toBe(6);
    const made = await takeIn('sound.jpg', bytes);
    if (made.kind !== 'kept') throw new Error(made.reason.code);
    expect(made.value).toMatchObject({ displayFormat: 'jpg', widthPx: 1500, heightPx: 2000 });
    expect(made.value.processing).toEqual(['turned upright']);
    expect(bytes.includes('planted')).toBe(true);
    const stripped = await readFile(join(folder, 'stripped'));
    const display = await readFile(join(folder, 'display'));
    for (const out of [stripped, display]) expect(out.includes('planted')).toBe(false);
    expect(made.value.displaySha256).toBe(createHash('sha256').update(display).digest('hex'));
    const pixels = (of: Uint8Array) => sharp(of, { ignoreIcc: true }).raw().toBuffer();
    expect((await pixels(stripped)).equals(await pixels(bytes))).toBe(true);
  });

  test.each([
    ['half', (bytes: Buffer) => bytes.subarray(0, bytes.length >> 1)],
    ['99 of 100 parts', (bytes: Buffer) => bytes.subarray(0, bytes.length * 0.99)],
    ['all but the end marker', (bytes: Buffer) => bytes.subarray(0, -2)],
    ['a first half and zeros', (bytes: Buffer) => Buffer.from(bytes).fill(0, bytes.length >> 1)],
  ])('of which only %s arrived is held as damaged', async (_, cut) => {
    expect(await takeIn('cut.jpg', cut(photograph))).toMatchObject({
      kind: 'held',
      reason: { code: 'damaged' },
    });
  });
});

test('a picture of 2,500 megapixels is held, and the next one is made', async () => {
  expect(await takeIn('bomb.png', writeBomb(50_000, 50_000))).toMatchObject({
    kind: 'held',
    reason: { code: 'too-many-pixels', limitMegapixels: 100 },
  });
  expect(await takeIn('small.png', writeBomb(60, 40))).toMatchObject({ kind: 'kept' });
});

test('a drawing language that the decoder would understand never reaches it', async () => {
  const path = await put(
    'drawing.jpg',
    Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'),
  );
  expect(await workers.identify({ path, name: 'drawing.jpg' })).toMatchObject({ kind: 'held' });
  const reduced = await workers.reduce({ path, maxWidthPx: 9, maxHeightPx: 9, grey: false });
  expect(reduced).toMatchObject({ kind: 'held', reason: { code: 'damaged' } });
});

test("a file that is not there is the disk's trouble", async () => {
  const path = join(folder, 'absent.jpg');
  expect(await workers.identify({ path, name: 'absent.jpg' })).toEqual({
    kind: 'failed',
    reason: { code: 'disk', what: 'ENOENT' },
  });
});

test('a picture is reduced for print, upright', async () => {
  const path = await put('display.jpg', photograph);
  const reduced = await workers.reduce({ path, maxWidthPx: 200, maxHeightPx: 200, grey: true });
  if (reduced.kind !== 'kept') throw new Error(reduced.reason.code);
  expect(await sharp(reduced.value.jpeg).metadata()).toMatchObject({ width: 150, height: 200, channels: 1 });
});
