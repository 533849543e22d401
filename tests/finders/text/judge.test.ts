import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FoundBox } from '../../../src/finders/finder.js';
import { areaOf, sharedArea } from '../../../src/finders/text/boxes.js';
import { isText, judge, passing } from '../../../src/finders/text/judge.js';
import type { ReadCandidate } from '../../../src/finders/text/read-candidates.js';

const PAGE = { widthPx: 1280, heightPx: 1024 };

const candidate = (box: FoundBox, text: string, some: Partial<ReadCandidate> = {}): ReadCandidate => ({
  box,
  text,
  confidence: 0.95,
  score: 0.9,
  by: 'net',
  ...some,
});

describe('the veto', () => {
  it('lets lettering pass and stops a tooth that reads as one round letter', () => {
    expect(isText(candidate([10, 10, 180, 26], 'Rowan Testcase'), PAGE)).toBe(true);
    expect(isText(candidate([10, 10, 28, 26], 'R'), PAGE)).toBe(true);
    expect(isText(candidate([300, 200, 350, 115], 'O'), PAGE)).toBe(false);
    expect(isText(candidate([300, 200, 180, 170], '0'), PAGE)).toBe(false);
  });

  it('asks more of large boxes and of what only a rule on pixels found', () => {
    expect(isText(candidate([10, 10, 900, 120], '2026/02/11 09:41'), PAGE)).toBe(true);
    expect(isText(candidate([10, 10, 400, 120], 'LUU', { confidence: 0.5 }), PAGE)).toBe(false);
    expect(isText(candidate([10, 10, 1200, 400], '2026/02/11 09:41'), PAGE)).toBe(false);
    expect(isText(candidate([10, 10, 130, 50], 'A', { confidence: 0.7 }), PAGE)).toBe(false);
    expect(isText(candidate([10, 10, 14, 20], 'd', { by: 'flat', confidence: 0.7 }), PAGE)).toBe(false);
    expect(isText(candidate([10, 10, 14, 20], 'L', { by: 'flat', confidence: 0.97 }), PAGE)).toBe(true);
  });

  it('stops what was read as nothing, or as signs of another script', () => {
    expect(isText(candidate([10, 10, 200, 20], '', { confidence: 0 }), PAGE)).toBe(false);
    expect(isText(candidate([10, 10, 200, 20], '一二三'), PAGE)).toBe(false);
  });
});

describe('pieces of a line', () => {
  const weak = { confidence: 0.3, score: 0.3 };
  it('pass beside what was read, across and upright, and nowhere else', () => {
    const name = candidate([100, 50, 120, 20], 'Testcase');
    const beside = candidate([232, 51, 14, 18], 'A', { ...weak, by: 'flat' });
    const far = candidate([400, 51, 14, 18], 'A', { ...weak, by: 'flat' });
    const below = candidate([150, 90, 14, 18], 'A', { ...weak, by: 'flat' });
    expect(passing([name, beside, far, below], PAGE)).toEqual([name, beside]);
    const upright = candidate([600, 300, 20, 120], 'Testcase');
    const above = candidate([601, 274, 18, 14], 'A', { ...weak, by: 'flat' });
    expect(passing([upright, above], PAGE)).toEqual([upright, above]);
  });
});

describe('judged texts', () => {
  const some = fc.record({
    box: fc.tuple(
      fc.integer({ min: 0, max: 1200 }),
      fc.integer({ min: 0, max: 1000 }),
      fc.integer({ min: 1, max: 80 }),
      fc.integer({ min: 1, max: 24 }),
    ) as fc.Arbitrary<FoundBox>,
    text: fc.constantFrom('', 'R', 'Rowan', '1984-06-02'),
    confidence: fc.double({ min: 0, max: 1, noNaN: true }),
    score: fc.double({ min: 0, max: 1, noNaN: true }),
    by: fc.constantFrom('net' as const, 'flat' as const),
  });

  it('hold every candidate that is text, inside the picture, and are sure as shares are', () => {
    fc.assert(
      fc.property(fc.array(some, { maxLength: 12 }), (candidates) => {
        const texts = judge(candidates, PAGE);
        for (const { box, score, confidence } of texts) {
          expect(box.every(Number.isInteger)).toBe(true);
          expect(sharedArea(box, [0, 0, PAGE.widthPx, PAGE.heightPx])).toBe(areaOf(box));
          expect(Math.min(score, confidence)).toBeGreaterThanOrEqual(0);
          expect(Math.max(score, confidence)).toBeLessThanOrEqual(1);
        }
        for (const { box } of candidates.filter((one) => isText(one, PAGE))) {
          const inside: FoundBox = [
            box[0],
            box[1],
            Math.min(box[2], PAGE.widthPx - box[0]),
            Math.min(box[3], PAGE.heightPx - box[1]),
          ];
          expect(texts.some((text) => sharedArea(text.box, inside) === areaOf(inside))).toBe(true);
        }
      }),
    );
  });

  it('are one box for a string seen twice, with the better reading', () => {
    const texts = judge(
      [
        candidate([100, 50, 120, 20], 'Rowan Tes', { confidence: 0.7 }),
        candidate([98, 49, 150, 22], 'Rowan Testcase'),
      ],
      PAGE,
    );
    expect(texts).toHaveLength(1);
    expect(texts[0]!.text).toBe('Rowan Testcase');
  });
});
