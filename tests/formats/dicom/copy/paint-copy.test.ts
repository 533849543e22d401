import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COVER_GREY } from '../../../../src/core/cover-grey.js';
import { paintCopy } from '../../../../src/formats/dicom/copy/index.js';
import { dicomLeftovers } from '../../../../src/formats/dicom/leftovers/index.js';
import type { StoredPixels } from '../../../../src/formats/format.js';
import { paintBoxes } from '../../../../src/stages/cover/paint-boxes.js';
import { copyOf, keptOf, opened, tagsIn, textIn } from './copies.js';
import {
  CLASS,
  changed,
  HEIGHT,
  radiograph,
  rampPixels,
  signedPixels,
  slice,
  still,
  WIDTH,
} from './drawn-objects.js';
import { at, fileOf, type Planted } from './source-object.js';

type Box = [number, number, number, number];

const pixels = rampPixels(12);
const copy = copyOf(fileOf(radiograph()), pixels);
const painted = (boxes: Box[], searched = true, of: Uint8Array = copy): Buffer =>
  Buffer.from(keptOf(paintCopy(of, boxes, searched)));

const flippedPixels = (): StoredPixels => ({
  ...pixels,
  data: pixels.data.map((_, index) => {
    const [x, y] = [index % WIDTH, Math.floor(index / WIDTH)];
    return pixels.data[y * WIDTH + WIDTH - 1 - x] as number;
  }) as Uint16Array,
});

/** The samples at the end of a copy, as bytes. */
function samplesOf(file: Uint8Array): Buffer {
  const { elements, bytes } = opened(file);
  const { at: from, length } = elements.find(({ tag }) => tag === 0x7fe00010) as {
    at: number;
    length: number;
  };
  return Buffer.from(bytes.subarray(from, from + length));
}

describe('covers in a copy', () => {
  it('are one solid value, and nothing beside them changes', () => {
    const before = samplesOf(copy);
    const after = samplesOf(painted([[3, 2, 7, 5]]));
    const inside = new Set<number>();
    for (let y = 0; y < HEIGHT; y++)
      for (let x = 0; x < WIDTH; x++) {
        const offset = 2 * (y * WIDTH + x);
        if (x >= 3 && x < 10 && y >= 2 && y < 7) inside.add(after.readUInt16LE(offset));
        else expect(after.readUInt16LE(offset)).toBe(before.readUInt16LE(offset));
      }
    expect(inside.size).toBe(1);
  });

  it('lie where the cover stage paints them, for any boxes', () => {
    const box = fc.tuple(
      fc.integer({ min: -5, max: WIDTH + 5 }),
      fc.integer({ min: -5, max: HEIGHT + 5 }),
      fc.integer({ min: 0, max: WIDTH }),
      fc.integer({ min: 0, max: HEIGHT }),
    );
    // a picture of one value: what differs from it was painted
    const flat: StoredPixels = { ...rampPixels(8, 3), data: new Uint8Array(WIDTH * HEIGHT * 3).fill(7) };
    const plain = copyOf(fileOf(still()), flat);
    fc.assert(
      fc.property(fc.array(box, { maxLength: 4 }), (boxes) => {
        const shown = Buffer.alloc(WIDTH * HEIGHT * 3, 7);
        paintBoxes(shown, { widthPx: WIDTH, heightPx: HEIGHT, channels: 3 }, boxes);
        expect(samplesOf(painted(boxes, true, plain)).equals(shown)).toBe(true);
      }),
      { numRuns: 50 },
    );
  });

  it('lie on the same part of the picture when it was flipped for display', () => {
    const flipRows = (bytes: Buffer): Buffer => {
      const out = Buffer.alloc(bytes.length);
      for (let y = 0; y < HEIGHT; y++)
        for (let x = 0; x < WIDTH; x++)
          bytes.copy(out, 2 * (y * WIDTH + x), 2 * (y * WIDTH + WIDTH - 1 - x), 2 * (y * WIDTH + WIDTH - x));
      return out;
    };
    const seen = samplesOf(painted([[3, 2, 7, 5]], true, copyOf(fileOf(radiograph()), flippedPixels())));
    const flipped = samplesOf(keptOf(paintCopy(copy, [[3, 2, 7, 5]], true, true)));
    expect(flipRows(flipped).equals(seen)).toBe(true);
  });

  it('show as the grey of covers by the formula of PS3.3, C.11.2.1.2', () => {
    const shades = (elements: Planted[], of: StoredPixels): number => {
      const file = painted([[3, 2, 7, 5]], true, copyOf(fileOf(elements), of));
      const samples = samplesOf(file);
      const offset = 2 * (3 * WIDTH + 4);
      const stored =
        of.data instanceof Int16Array ? samples.readInt16LE(offset) : samples.readUInt16LE(offset);
      const number = (tag: number): number => Number(textIn(file, tag)?.split('\\')[0]);
      const x = stored * number(0x00281053) + number(0x00281052);
      const [c, w] = [number(0x00281050), number(0x00281051)];
      const y = ((x - (c - 0.5)) / (w - 1) + 0.5) * 255;
      return textIn(file, 0x00280004) === 'MONOCHROME1' ? 255 - y : y;
    };
    expect(shades(radiograph(), pixels)).toBeCloseTo(COVER_GREY, 0);
    expect(shades(slice(), signedPixels(12))).toBeCloseTo(COVER_GREY, 0);
    const dark = changed(radiograph(), at(0x00280004, 'CS', 'MONOCHROME1'), at(0x20500020, 'CS', 'INVERSE'));
    expect(shades(dark, pixels)).toBeCloseTo(COVER_GREY, 0);
  });

  it('do not widen the range by which a picture without a window is shown', () => {
    const windowless = changed(
      radiograph(CLASS.computed, 'CR'),
      { tag: 0x00281050, value: null },
      { tag: 0x00281051, value: null },
    );
    const narrow = { ...pixels, data: pixels.data.map((value) => 1000 + (value % 200)) as Uint16Array };
    const after = samplesOf(painted([[3, 2, 7, 5]], true, copyOf(fileOf(windowless), narrow)));
    const values = Array.from({ length: after.length / 2 }, (_, index) => after.readUInt16LE(2 * index));
    expect(Math.min(...values)).toBe(1000);
    expect(Math.max(...values)).toBe(1199);
    expect(
      Math.abs(after.readUInt16LE(2 * (3 * WIDTH + 4)) - (1000 + (199 * COVER_GREY) / 255)),
    ).toBeLessThanOrEqual(1);
  });

  it('are never the value that stands for no picture at all', () => {
    const padded = changed(radiograph(), at(0x00280120, 'US', [2056]), at(0x00281050, 'DS', '2048'));
    const plain = samplesOf(painted([[0, 0, 1, 1]])).readUInt16LE(0);
    const withPadding = changed(radiograph(), at(0x00280120, 'US', [plain]));
    const after = samplesOf(painted([[0, 0, 1, 1]], true, copyOf(fileOf(withPadding), pixels))).readUInt16LE(
      0,
    );
    expect(after).not.toBe(plain);
    expect(Math.abs(after - plain)).toBe(1);
    expect(samplesOf(copyOf(fileOf(padded), pixels)).equals(samplesOf(copy))).toBe(true);
  });
});

describe('what a painted copy says', () => {
  it('is that its pixels are clean, once they were searched', () => {
    const after = painted([[3, 2, 7, 5]]);
    expect(textIn(after, 0x00280301)).toBe('NO');
    expect(after.includes('113101')).toBe(true);
    expect(textIn(after, 0x00080008)).toBe('DERIVED\\PRIMARY\\');
    expect(dicomLeftovers(after)).toEqual([]);
  });

  it('is the same of a copy in which the search found nothing, whose picture stays the original', () => {
    const after = painted([]);
    expect(textIn(after, 0x00280301)).toBe('NO');
    expect(after.includes('113101')).toBe(true);
    expect(textIn(after, 0x00080008)).toBe('ORIGINAL\\PRIMARY\\');
    expect(samplesOf(after).equals(samplesOf(copy))).toBe(true);
  });

  it('is nothing of clean pixels without a search', () => {
    const after = painted([[3, 2, 7, 5]], false);
    expect(textIn(after, 0x00280301)).toBe('YES');
    expect(after.includes('113101')).toBe(false);
    expect(painted([], false).equals(copy)).toBe(true);
  });

  it('adds no other attribute than an answer about burned-in text and a code', () => {
    expect(tagsIn(painted([[3, 2, 7, 5]])).length).toBe(tagsIn(copy).length + 3);
    const plain = copyOf(fileOf(still()), rampPixels(8, 3));
    expect(tagsIn(painted([], true, plain)).filter((tag) => !tagsIn(plain).includes(tag))).toEqual([
      '00280301',
    ]);
  });

  it('is the same, bytes and all, each time', () => {
    expect(painted([[3, 2, 7, 5]]).equals(painted([[3, 2, 7, 5]]))).toBe(true);
    expect(painted([], true, painted([[3, 2, 7, 5]])).equals(painted([[3, 2, 7, 5]]))).toBe(true);
  });

  it('leaves the copy that was handed in as it was', () => {
    const before = Buffer.from(copy);
    painted([[0, 0, WIDTH, HEIGHT]]);
    expect(copy.equals(before)).toBe(true);
  });
});

describe('an object that this program did not make', () => {
  it('is held, never painted', () => {
    expect(paintCopy(fileOf(radiograph()), [[1, 1, 2, 2]], true)).toMatchObject({
      kind: 'held',
      reason: { code: 'unusual' },
    });
  });

  it('is held as well when it is no DICOM object at all, or a part of one', () => {
    expect(paintCopy(Buffer.from('Rowan Testcase'), [], true).kind).toBe('held');
    for (const length of [0, 131, 300, copy.length - 7])
      expect(paintCopy(copy.subarray(0, length), [], true).kind).toBe('held');
  });
});
