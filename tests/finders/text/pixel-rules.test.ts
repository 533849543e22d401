import { describe, expect, it } from 'vitest';
import type { FoundBox } from '../../../src/finders/finder.js';
import { overlapOfSmaller } from '../../../src/finders/text/boxes.js';
import { colouredMarks, flatMarks, lumaOf } from '../../../src/finders/text/pixel-rules.js';
import { ground, print } from './drawn-text.js';

const hits = (marks: readonly FoundBox[], box: FoundBox): boolean =>
  marks.some((mark) => overlapOfSmaller(mark, box) > 0.9);

describe('the rule on flat ground', () => {
  it.each([
    [5, 255],
    [120, 230],
    [120, 10],
    [250, 0],
  ])('finds a lone letter on ground of %d levels printed with %d', async (grey, tone) => {
    const picture = ground(220, 160, grey);
    const box = await print(picture, {
      text: 'L',
      capitalPx: 14,
      at: [0.8, 0.3],
      colour: [tone, tone, tone],
    });
    expect(hits(flatMarks(lumaOf(picture), 40), box)).toBe(true);
  });

  it('passes over empty ground, long lines and solid fillings', () => {
    const picture = ground(220, 160, 90);
    for (let x = 10; x < 200; x++) picture.data[80 * 220 + x] = 255;
    for (let y = 20; y < 40; y++) picture.data.fill(255, y * 220 + 50, y * 220 + 70);
    expect(flatMarks(lumaOf(picture), 40)).toEqual([]);
  });

  it('passes over marks less than fifty levels off their ground', async () => {
    const picture = ground(220, 160, 90);
    await print(picture, { text: 'R', capitalPx: 14, at: [0.5, 0.5], colour: [125, 125, 125] });
    expect(flatMarks(lumaOf(picture), 40)).toEqual([]);
  });
});

describe('the rule on colour', () => {
  it('finds coloured letters in a grey picture, and nothing in a coloured one', async () => {
    const grey = ground(220, 160, 110, 3);
    const wish = { text: '46', capitalPx: 14, at: [0.5, 0.5], colour: [255, 150, 0] } as const;
    const box = await print(grey, wish);
    expect(hits(colouredMarks(grey, 40), box)).toBe(true);
    const still = ground(220, 160, 110, 3);
    for (let at = 0; at < still.data.length; at += 3) still.data[at] = 220;
    await print(still, wish);
    expect(colouredMarks(still, 40)).toEqual([]);
  });
});
