import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import type { FormatName } from '../../../src/core/format-name.js';
import { decodeExact } from '../../../src/stages/render/decode-exact.js';
import { render } from '../../../src/stages/render/index.js';
import { factsOf } from './facts-for-tests.js';
import { type PngPicture, writeBomb, writePng } from './write-png.js';

const judge = (original: Uint8Array, stripped: Uint8Array, format: FormatName = 'PNG', pixelLimit?: number) =>
  render({ original, stripped, facts: factsOf({ format }), radiograph: true, flip: false, pixelLimit });

const grey16: PngPicture = { widthPx: 3, heightPx: 2, bitDepth: 16, colourType: 0 };
const WORDS = [0, 1, 255, 256, 1000, 65_535];

const photograph = (progressive = false): Promise<Buffer> =>
  sharp(
    Uint8Array.from({ length: 300 * 200 * 3 }, (_, at) => (at * 7919 + (at >> 7)) % 253),
    {
      raw: { width: 300, height: 200, channels: 3 },
    },
  )
    .jpeg({ quality: 90, progressive })
    .toBuffer();

describe('the gate decodes every bit', () => {
  test.each<[string, PngPicture, number[]]>([
    ['16-bit grey', grey16, WORDS],
    ['8-bit grey', { ...grey16, bitDepth: 8 }, [0, 1, 2, 127, 254, 255]],
    ['16-bit colour', { ...grey16, widthPx: 1, colourType: 2 }, WORDS],
    [
      '8-bit colour with alpha',
      { widthPx: 2, heightPx: 1, bitDepth: 8, colourType: 6 },
      [1, 2, 3, 0, 5, 6, 7, 200],
    ],
    [
      '16-bit colour with alpha',
      { widthPx: 1, heightPx: 1, bitDepth: 16, colourType: 6 },
      [1, 258, 65_535, 3],
    ],
  ])('of %s', async (_, picture, samples) => {
    const decoded = await decodeExact(writePng(picture, samples), 'PNG', 1e8);
    if (decoded.kind !== 'kept') throw new Error(decoded.reason.code);
    const { data } = decoded.value.pixels;
    const read = picture.bitDepth === 16 ? samples.map((_, at) => data.readUInt16LE(2 * at)) : [...data];
    expect(read).toEqual(samples);
  });

  test('and lets equal pixels pass, whatever the container', async () => {
    const loose = writePng(grey16, WORDS);
    const tight = await sharp(loose, { ignoreIcc: true })
      .toColourspace('grey16')
      .png({ compressionLevel: 9, adaptiveFiltering: true })
      .toBuffer();
    expect(tight.equals(loose)).toBe(false);
    expect(await judge(loose, tight)).toMatchObject({ kind: 'kept' });
  });
});

describe('the gate holds pixels that changed', () => {
  const changed = { kind: 'held', reason: { code: 'pixels-changed' } };

  test('in the lowest of 16 bits', async () => {
    const other = WORDS.with(4, 1001);
    expect(await judge(writePng(grey16, WORDS), writePng(grey16, other))).toEqual(changed);
  });

  test('by losing depth', async () => {
    const eight = writePng({ ...grey16, bitDepth: 8 }, [0, 0, 0, 1, 3, 255]);
    expect(await judge(writePng(grey16, WORDS), eight)).toEqual(changed);
  });

  test('by turning grey into colour', async () => {
    const grey = writePng({ widthPx: 2, heightPx: 1, bitDepth: 8, colourType: 0 }, [7, 9]);
    const colour = writePng({ widthPx: 2, heightPx: 1, bitDepth: 8, colourType: 2 }, [7, 7, 7, 9, 9, 9]);
    expect(await judge(grey, colour)).toEqual(changed);
  });

  test('by turning the picture, though every value is there', async () => {
    const wide = writePng({ widthPx: 2, heightPx: 1, bitDepth: 8, colourType: 0 }, [7, 9]);
    const tall = writePng({ widthPx: 1, heightPx: 2, bitDepth: 8, colourType: 0 }, [7, 9]);
    expect(await judge(wide, tall)).toEqual(changed);
  });

  test.each([4, 6] as const)('in alpha alone, colour type %d', async (colourType) => {
    const picture: PngPicture = { widthPx: 1, heightPx: 1, bitDepth: 8, colourType };
    const before = colourType === 4 ? [9, 255] : [9, 9, 9, 255];
    const after = before.with(-1, 254);
    expect(await judge(writePng(picture, before), writePng(picture, after))).toEqual(changed);
  });

  test('when the stripped copy cannot be decoded at all', async () => {
    const jpeg = await photograph();
    expect(await judge(jpeg, jpeg.subarray(0, jpeg.length / 2), 'JPEG')).toEqual(changed);
  });
});

describe('a file that is not whole is held as damaged, in plain words', () => {
  test.each([
    ['half of it', 0.5],
    ['its last hundredth', 0.99],
  ])('when it lacks %s', async (_, share) => {
    for (const jpeg of [await photograph(), await photograph(true)]) {
      const cut = jpeg.subarray(0, Math.floor(jpeg.length * share));
      expect(await judge(cut, cut, 'JPEG')).toEqual({
        kind: 'held',
        reason: {
          code: 'damaged',
          format: 'JPEG',
          what: 'it ends too early, so a part of the picture is missing',
        },
      });
    }
  });

  test('when it was cut short and closed with an end marker, so that half of the picture is grey', async () => {
    const jpeg = await photograph();
    const closed = Buffer.concat([jpeg.subarray(0, jpeg.length / 2), Buffer.from([0xff, 0xd9])]);
    expect(await judge(closed, closed, 'JPEG')).toMatchObject({ kind: 'held', reason: { code: 'damaged' } });
  });

  test('when a stray restart marker breaks the picture in the middle', async () => {
    const jpeg = await photograph();
    const half = jpeg.length >> 1;
    const torn = Buffer.concat([jpeg.subarray(0, half), Buffer.from([0xff, 0xd3]), jpeg.subarray(half)]);
    expect(await judge(torn, torn, 'JPEG')).toMatchObject({ kind: 'held', reason: { code: 'damaged' } });
  });

  test('when a PNG or a TIFF is cut', async () => {
    const png = writePng(
      { widthPx: 50, heightPx: 50, bitDepth: 8, colourType: 0 },
      new Uint8Array(2500).fill(9).map((_, at) => (at * 31) % 256),
    );
    const halfPng = png.subarray(0, png.length / 2);
    expect(await judge(halfPng, halfPng)).toMatchObject({ reason: { code: 'damaged', format: 'PNG' } });
    const tiff = await sharp(png).tiff({ compression: 'lzw' }).toBuffer();
    const halfTiff = tiff.subarray(0, tiff.length / 2);
    expect(await judge(halfTiff, halfTiff, 'TIFF')).toMatchObject({
      reason: { code: 'damaged', format: 'TIFF' },
    });
  });

  test('when it is something else than its format says', async () => {
    const drawing = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
    expect(await judge(drawing, drawing)).toMatchObject({
      reason: { code: 'damaged', what: 'it cannot be opened' },
    });
    const empty = Buffer.alloc(0);
    expect(await judge(empty, empty)).toMatchObject({ reason: { code: 'damaged' } });
  });
});

test('a picture that only makes the decoder grumble is kept, with a note for the practice', async () => {
  const jpeg = await photograph();
  const scan = jpeg.lastIndexOf(Buffer.from([0xff, 0xda]));
  // Stray bytes between two segments: "extraneous bytes before marker", a warning without loss.
  const odd = Buffer.concat([jpeg.subarray(0, scan), Buffer.from([1, 2, 3]), jpeg.subarray(scan)]);
  expect(await judge(odd, jpeg, 'JPEG')).toMatchObject({
    kind: 'kept',
    value: {
      notes: ['the file has small faults, but the whole picture could be read'],
      processing: expect.any(Array),
    },
  });
});

describe('a picture with too many pixels is refused before anything is decoded', () => {
  test('50,000 x 50,000 in a small file', async () => {
    const bomb = writeBomb(50_000, 50_000);
    expect(bomb.length).toBeLessThan(1_000_000);
    expect(await judge(bomb, bomb)).toEqual({
      kind: 'held',
      reason: { code: 'too-many-pixels', megapixels: 2500, limitMegapixels: 100 },
    });
  });

  test('just over 100 million', async () => {
    const over = writeBomb(10_001, 10_000);
    expect(await judge(over, over)).toMatchObject({ reason: { code: 'too-many-pixels', megapixels: 101 } });
  });

  test('but a sound picture at a lower limit passes', async () => {
    const sound = writeBomb(100, 100);
    expect(await judge(sound, sound, 'PNG', 10_000)).toMatchObject({ kind: 'kept' });
    expect(await judge(sound, sound, 'PNG', 9_999)).toMatchObject({ reason: { code: 'too-many-pixels' } });
  });
});
