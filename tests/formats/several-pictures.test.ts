import { deflateSync } from 'node:zlib';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, test } from 'vitest';
import { identify } from '../../src/stages/identify/index.js';
import { render } from '../../src/stages/render/index.js';
import { strip } from '../../src/stages/strip/index.js';
import { drawColour, HEIGHT_PX, pixelsOf, WIDTH_PX } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { afterStart, segment } from '../fixtures/jpeg-pieces.js';
import { holdsMarker, MARKER } from '../fixtures/markers.js';
import { beforeChunk, pngChunk, pngChunksOf } from '../fixtures/png-pieces.js';
import { greyFields, makeTiff } from '../fixtures/tiff-pieces.js';
import { riffChunk, withChunks } from '../fixtures/webp-pieces.js';
import { notesOf, stripped, strippedBytes } from './stripped.js';

const note = (pictures: number): string[] => [
  `The file holds ${pictures} pictures; the first one was taken, the others were left out.`,
];

/** Pictures that are told apart at once, the others in other colours. */
const [first, second, third] = [drawColour(), drawColour().negate().flip(), drawColour().negate()];

/** Identify, strip, compare and draw, as a worker does. */
async function taken(file: Buffer, name: string) {
  const facts = await identify(file, name);
  if (facts.kind !== 'kept') throw new Error(facts.reason.code);
  const clean = await strip(file, facts.value);
  if (clean.kind !== 'kept') throw new Error(clean.reason.code);
  const job = { original: file, stripped: clean.value.bytes, facts: facts.value };
  const drawn = await render({ ...job, radiograph: false, flip: false });
  if (drawn.kind !== 'kept') throw new Error(drawn.reason.code);
  return {
    notes: facts.value.notes,
    clean: Buffer.from(clean.value.bytes),
    display: Buffer.from(drawn.value.display),
  };
}

/** Any stretch of the coded data of the others that is long enough to be no chance. */
function holdsPieceOf(output: Buffer, coded: Buffer): boolean {
  for (let at = 40; at + 24 <= coded.length; at += 24)
    if (output.includes(coded.subarray(at, at + 24))) return true;
  return false;
}

async function expectFirstOf(file: Buffer, name: string, count: number, others: Buffer[], alone: Buffer) {
  const { notes, clean, display } = await taken(file, name);
  expect(notes).toEqual(note(count));
  for (const other of others) {
    expect(holdsPieceOf(file, other)).toBe(true);
    expect(holdsPieceOf(clean, other) || holdsPieceOf(display, other)).toBe(false);
  }
  expect(holdsMarker(clean) || holdsMarker(display)).toBe(false);
  expect((await pixelsOf(clean)).pixels.equals((await pixelsOf(alone)).pixels)).toBe(true);
}

describe('a multi-picture JPEG', () => {
  /** Index of CIPA DC-007, 5.2: version, number of pictures, then 16 bytes each: kind, size, place, two links. */
  const index = (kinds: number[]): Buffer => {
    const entries = Buffer.concat(
      kinds.map((kind) => {
        const entry = Buffer.alloc(16);
        entry.writeUInt32LE(kind << 16, 0);
        return entry;
      }),
    );
    const block = exifBlock([
      { tag: 0xb000, type: 7, value: Buffer.from('0100') },
      { tag: 0xb001, type: 4, value: kinds.length },
      { tag: 0xb002, type: 7, value: entries },
    ]);
    return segment(0xe2, Buffer.concat([Buffer.from('MPF\0', 'latin1'), block]));
  };
  const withExif = segment(
    0xe1,
    Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), exifBlock([{ tag: 0x13b, type: 2, value: MARKER }])]),
  );

  test('gives its first', async () => {
    const [alone, b, c] = await Promise.all(
      [first, second, third].map((one) => one.clone().jpeg().toBuffer()),
    );
    const file = Buffer.concat([afterStart(alone!, index([3, 0, 0])), afterStart(b!, withExif), c!]);
    await expectFirstOf(file, 'a.mpo', 3, [b!.subarray(600), c!.subarray(600)], alone!);
  });

  test('whose others are previews of the first holds one picture', async () => {
    const alone = await first.clone().jpeg().toBuffer();
    expect(notesOf(Buffer.concat([afterStart(alone, index([3, 1])), alone]))).toEqual([]);
  });

  test('without an index, or with one that cannot be read, is told by what follows its end', async () => {
    const alone = await first.clone().jpeg().toBuffer();
    expect(notesOf(Buffer.concat([alone, alone]))).toEqual(note(2));
    const broken = segment(0xe2, `MPF\0${MARKER}`);
    expect(notesOf(Buffer.concat([afterStart(alone, broken), alone]))).toEqual(note(2));
    expect(notesOf(afterStart(alone, broken))).toEqual([]);
    expect(holdsMarker(strippedBytes(afterStart(alone, broken)))).toBe(false);
  });
});

describe('a TIFF of several pages', () => {
  const rgb = (data: Buffer): Buffer => deflateSync(data);

  test('gives its first', async () => {
    const [a, b] = await Promise.all([first, second].map((one) => one.clone().raw().toBuffer()));
    const [one, two] = [rgb(a!), rgb(b!)];
    const page = (at: number, bytes: number, text: string) =>
      greyFields(WIDTH_PX, HEIGHT_PX, [270, 2, text]).map((field): typeof field => {
        const [tag] = field;
        if (tag === 258) return [258, 3, [8, 8, 8]];
        if (tag === 259) return [259, 3, [8]];
        if (tag === 262) return [262, 3, [2]];
        if (tag === 277) return [277, 3, [3]];
        if (tag === 273) return [273, 4, [at]];
        return tag === 279 ? [279, 4, [bytes]] : field;
      });
    const pages = [
      page(0, one.length, 'x'),
      page(one.length, two.length, MARKER),
      page(one.length, two.length, MARKER),
    ];
    const file = makeTiff(pages, Buffer.concat([one, two]));
    await expectFirstOf(file, 'a.tif', 3, [two], await first.clone().png().toBuffer());
  });

  const pixels = Buffer.alloc(240, 7);
  const page = (kind: number) => greyFields(24, 10, [254, 4, [kind]]);

  test('does not count previews and masks', () => {
    expect(notesOf(makeTiff([page(0), page(1), page(4)], pixels))).toEqual([]);
    expect(notesOf(makeTiff([page(2), page(2)], pixels))).toEqual(note(2));
  });

  test('is held when a preview stands in front of the picture itself', () => {
    expect(stripped(makeTiff([page(1), page(0)], pixels))).toBe('unusual');
    expect(typeof stripped(makeTiff([page(1)], pixels))).not.toBe('string');
  });
});

describe('a moving WebP', () => {
  const moving = async (pictures: Sharp[], lossless: boolean): Promise<Buffer> =>
    sharp(await Promise.all(pictures.map((one) => one.clone().png().toBuffer())), {
      join: { animated: true },
    })
      .webp({ loop: 0, lossless })
      .toBuffer();
  /** Data of each frame, its head left out. */
  const framesOf = (file: Buffer): Buffer[] => {
    const frames: Buffer[] = [];
    for (let at = 12; at < file.length; at += 8 + file.readUInt32LE(at + 4) + (file.readUInt32LE(at + 4) % 2))
      if (file.toString('latin1', at, at + 4) === 'ANMF')
        frames.push(file.subarray(at + 32, at + 8 + file.readUInt32LE(at + 4)));
    return frames;
  };
  const clear = drawColour().ensureAlpha(0.5);
  test.each<[string, Sharp[], boolean]>([
    ['lossy', [first, second, third], false],
    ['lossless', [first, second, third], true],
    ['lossy, transparent', [clear, clear.clone().flip()], false],
    ['lossless, transparent', [clear, clear.clone().flip()], true],
    ['lossy, transparent only later', [first.clone().ensureAlpha(1), clear.clone().flip()], false],
    ['lossless, transparent only later', [first.clone().ensureAlpha(1), clear.clone().flip()], true],
  ])('gives its first: %s', async (_, pictures, lossless) => {
    const file = withChunks(await moving(pictures, lossless), riffChunk('XMP ', `<x>${MARKER}</x>`));
    const { notes, clean, display } = await taken(file, 'a.webp');
    const [, ...others] = framesOf(file);
    expect([notes, others.length]).toEqual([note(pictures.length), pictures.length - 1]);
    for (const other of others) {
      expect(holdsPieceOf(file, other)).toBe(true);
      expect(holdsPieceOf(clean, other) || holdsPieceOf(display, other)).toBe(false);
    }
    expect(holdsMarker(clean) || clean.includes('ANMF')).toBe(false);
    // What sharp shows of the first page, without a channel that is opaque everywhere.
    const [before, after] = await Promise.all(
      [file, clean].map((one) => sharp(one, { pages: 1 }).flatten({ background: '#fff' }).raw().toBuffer()),
    );
    expect(after!.equals(before!)).toBe(true);
  });

  test('is held when its first picture does not fill the canvas', async () => {
    const file = await moving([first, second], true);
    const at = file.indexOf('ANMF') + 8;
    const moved = Buffer.from(file);
    moved.writeUIntLE(1, at, 3);
    const smaller = Buffer.from(file);
    smaller.writeUIntLE(WIDTH_PX - 3, at + 6, 3);
    expect([stripped(moved), stripped(smaller)]).toEqual(['unusual', 'unusual']);
  });

  test('is held beside a still picture, and when the frame is broken', async () => {
    const [file, still] = [await moving([first, second], true), await first.clone().webp().toBuffer()];
    expect(stripped(withChunks(file, still.subarray(12)))).toBe('unusual');
    const cut = Buffer.from(file);
    cut.writeUInt32LE(8, cut.indexOf('VP8L') + 4);
    expect(stripped(cut)).toBe('damaged');
  });
});

describe('a moving PNG', () => {
  const control = (frames: number): Buffer => pngChunk('acTL', Buffer.from([0, 0, 0, frames, 0, 0, 0, 0]));
  const frame = pngChunk('fcTL', Buffer.alloc(26));

  test.each([
    ['whose first frame is the still picture', [frame], 2],
    ['whose still picture is none of its frames', [], 3],
  ])('%s gives the still one', async (_, before, count) => {
    const [alone, other] = await Promise.all([first, second].map((one) => one.clone().png().toBuffer()));
    const data = pngChunksOf(other!).find(({ name }) => name === 'IDAT')!.data;
    const frames = [
      frame,
      pngChunk('fdAT', Buffer.concat([Buffer.alloc(4), data])),
      pngChunk('tEXt', `A\0${MARKER}`),
    ];
    const moving = beforeChunk(beforeChunk(alone!, 'IEND', ...frames), 'IDAT', control(2), ...before);
    await expectFirstOf(moving, 'a.png', count, [data], alone!);
  });

  test('of one frame is one picture', async () => {
    const alone = await first.clone().png().toBuffer();
    expect(notesOf(beforeChunk(alone, 'IDAT', control(1), frame))).toEqual([]);
  });
});
