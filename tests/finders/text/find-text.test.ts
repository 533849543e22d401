import { beforeAll, describe, expect, it } from 'vitest';
import type { FinderPicture, FoundBox, FoundText, TextFinder } from '../../../src/finders/finder.js';
import { openTextFinder } from '../../../src/finders/text/index.js';
import { loadTextModels } from '../../../src/workers/load-models.js';
import { isCovered } from '../../bench/text/score.js';
import { ground, print } from './drawn-text.js';

const WHITE = [255, 255, 255] as const;
const BLACK = [0, 0, 0] as const;
const ORANGE = [255, 140, 0] as const;

let finder: TextFinder;

beforeAll(async () => {
  finder = await openTextFinder(await loadTextModels(), { threads: 2 });
});

const covers = (texts: readonly FoundText[], box: FoundBox): boolean =>
  isCovered(
    box,
    texts.map((text) => text.box),
  );
const readings = (texts: readonly FoundText[]): string => texts.map(({ text }) => text).join(' ');

describe('the text finder', () => {
  it('finds and reads a name in each corner', async () => {
    const picture = ground(560, 420, 60);
    const corners = [
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ] as const;
    const names = ['Rowan Testcase', 'Ines Dummyson', 'SAMPLEWOOD T.', 'Zoe Inventado'];
    const boxes: FoundBox[] = [];
    for (const [i, at] of corners.entries()) {
      boxes.push(await print(picture, { text: names[i]!, capitalPx: 12, at, colour: WHITE }));
    }
    const texts = await finder.find(picture);
    expect(boxes.map((box) => covers(texts, box))).toEqual([true, true, true, true]);
    expect(texts).toHaveLength(4);
    expect(readings(texts).replaceAll(' ', '')).toContain('RowanTestcase');
    for (const { confidence, score } of texts) {
      expect(confidence).toBeGreaterThan(0.8);
      expect(score).toBeGreaterThan(0.8);
    }
  });

  it.each([90, 180, 270])('finds and reads a name turned by %d degrees', async (turnDeg) => {
    const picture = ground(400, 420, 70);
    const wish = { text: 'Rowan Testcase', capitalPx: 15, at: [0.2, 0.6], colour: WHITE, turnDeg } as const;
    const box = await print(picture, wish);
    const texts = await finder.find(picture);
    expect(covers(texts, box)).toBe(true);
    expect(readings(texts).replaceAll(' ', '')).toContain('Testcase');
  });

  it('finds white on black and black on white', async () => {
    for (const [grey, colour] of [
      [4, WHITE],
      [250, BLACK],
    ] as const) {
      const picture = ground(420, 300, grey);
      const box = await print(picture, { text: '1984-06-02', capitalPx: 10, at: [0.9, 0.1], colour });
      const texts = await finder.find(picture);
      expect(covers(texts, box)).toBe(true);
      expect(readings(texts)).toContain('1984-06-02');
    }
  });

  it('finds a lone side marker on the black beside a film', async () => {
    const picture = ground(360, 300, 8);
    const box = await print(picture, { text: 'R', capitalPx: 18, at: [0.96, 0.3], colour: WHITE });
    const texts = await finder.find(picture);
    expect(covers(texts, box)).toBe(true);
    expect(readings(texts)).toBe('R');
  });

  it('finds the date that a camera burned into a still of twelve million pixels', async () => {
    const picture = ground(4000, 3000, 120, 3);
    const wish = { text: '2026/02/11 09:41', capitalPx: 75, at: [0.97, 0.97], colour: ORANGE } as const;
    const box = await print(picture, wish);
    const texts = await finder.find(picture);
    expect(covers(texts, box)).toBe(true);
    expect(readings(texts)).toMatch(/2026.02.11/);
    // seconds on an idle machine; a crowded one may take long
  }, 180_000);

  it('gives nothing for pictures without text', async () => {
    for (const grey of [0, 128, 255]) expect(await finder.find(ground(320, 240, grey, 3))).toEqual([]);
  });

  it('takes pictures of any shape, down to one pixel, and keeps every box inside', async () => {
    for (const [widthPx, heightPx] of [
      [1, 1],
      [1, 200],
      [333, 7],
    ] as const) {
      expect(await finder.find(ground(widthPx, heightPx, 90))).toEqual([]);
    }
    const picture = ground(211, 97, 40);
    await print(picture, { text: 'ROWAN TESTCASE', capitalPx: 14, at: [0.5, 0], colour: WHITE });
    await print(picture, { text: 'A-20417', capitalPx: 14, at: [1, 1], colour: WHITE });
    const texts = await finder.find(picture);
    expect(texts.length).toBeGreaterThan(0);
    for (const { box } of texts) {
      expect(box.every(Number.isInteger)).toBe(true);
      expect(Math.min(...box)).toBeGreaterThanOrEqual(0);
      expect(box[0] + box[2]).toBeLessThanOrEqual(211);
      expect(box[1] + box[3]).toBeLessThanOrEqual(97);
    }
  });

  it('gives the same for the same samples, and leaves them as they were', async () => {
    const picture = ground(420, 300, 60, 3);
    await print(picture, { text: 'Rowan Testcase', capitalPx: 12, at: [0.1, 0.1], colour: WHITE });
    const before = picture.data.slice();
    expect(await finder.find(picture)).toEqual(await finder.find(picture));
    expect(picture.data).toEqual(before);
  });

  it('refuses samples that do not fit their size', async () => {
    const picture: FinderPicture = { ...ground(40, 30, 60), widthPx: 41 };
    await expect(finder.find(picture)).rejects.toThrow('do not fit');
  });
});

describe('damaged models', () => {
  it('are refused with a sentence that names the part', async () => {
    const models = await loadTextModels();
    const cut = (bytes: Uint8Array): Uint8Array => bytes.slice(0, bytes.length >> 1);
    const open = (change: Partial<typeof models>) => openTextFinder({ ...models, ...change }, { threads: 1 });
    await expect(open({ detector: cut(models.detector) })).rejects.toThrow('the detector of the text finder');
    await expect(open({ recogniser: new Uint8Array(64) })).rejects.toThrow(
      'the recogniser of the text finder',
    );
    await expect(open({ keys: '' })).rejects.toThrow('the characters of the text finder');
    await expect(open({ keys: 'a\nb\nc\n' })).rejects.toThrow('the characters of the text finder');
  });
});
