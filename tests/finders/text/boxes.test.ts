import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FoundBox } from '../../../src/finders/finder.js';
import {
  areaOf,
  clipped,
  grown,
  inReadingOrder,
  overlapOfSmaller,
  sharedArea,
  unclipped,
  unionOf,
} from '../../../src/finders/text/boxes.js';

const box = fc.tuple(
  fc.integer({ min: -50, max: 500 }),
  fc.integer({ min: -50, max: 500 }),
  fc.integer({ min: 1, max: 300 }),
  fc.integer({ min: 1, max: 300 }),
) as fc.Arbitrary<FoundBox>;
const size = fc.record({
  widthPx: fc.integer({ min: 1, max: 400 }),
  heightPx: fc.integer({ min: 1, max: 400 }),
});

const holds = (outer: FoundBox, inner: FoundBox): boolean => sharedArea(outer, inner) === areaOf(inner);

describe('boxes', () => {
  it('share as many pixels as a count pixel by pixel finds', () => {
    fc.assert(
      fc.property(box, box, (a, b) => {
        let count = 0;
        for (let y = a[1]; y < a[1] + a[3]; y++) {
          for (let x = a[0]; x < a[0] + a[2]; x++) {
            if (x >= b[0] && x < b[0] + b[2] && y >= b[1] && y < b[1] + b[3]) count += 1;
          }
        }
        expect(sharedArea(a, b)).toBe(count);
      }),
      { numRuns: 40 },
    );
  });

  it('are held by their union, and the union by nothing smaller', () => {
    fc.assert(
      fc.property(box, box, (a, b) => {
        const both = unionOf(a, b);
        expect(holds(both, a) && holds(both, b)).toBe(true);
        expect(both[0] === a[0] || both[0] === b[0]).toBe(true);
        expect(both[0] + both[2]).toBe(Math.max(a[0] + a[2], b[0] + b[2]));
        expect(both[1] + both[3]).toBe(Math.max(a[1] + a[3], b[1] + b[3]));
      }),
    );
  });

  it('overlap wholly when one lies in the other, and not at all when they are apart', () => {
    fc.assert(
      fc.property(box, fc.integer({ min: 0, max: 9 }), (a, out) => {
        expect(overlapOfSmaller(a, grown(a, out, out))).toBe(1);
        expect(overlapOfSmaller(a, [a[0] + a[2], a[1], 5, 5])).toBe(0);
      }),
    );
  });

  it('are clipped to whole pixels of the picture without losing any pixel they held there', () => {
    const loose = fc.tuple(
      fc.double({ min: -90, max: 450, noNaN: true }),
      fc.double({ min: -90, max: 450, noNaN: true }),
      fc.double({ min: 0.1, max: 300, noNaN: true }),
      fc.double({ min: 0.1, max: 300, noNaN: true }),
    ) as fc.Arbitrary<FoundBox>;
    fc.assert(
      fc.property(loose, size, (one, within) => {
        const whole = clipped(one, within);
        const frame: FoundBox = [0, 0, within.widthPx, within.heightPx];
        if (whole === null) {
          expect(sharedArea(one, frame)).toBe(0);
          return;
        }
        expect(whole.every(Number.isInteger)).toBe(true);
        expect(holds(frame, whole)).toBe(true);
        expect(sharedArea(whole, one)).toBeCloseTo(sharedArea(frame, one), 6);
      }),
    );
  });

  it('are unclipped evenly on all sides, by area times ratio over circumference', () => {
    // the shrinking that training undoes: D = A(1 - r^2)/L (Liao et al. 2020, Real-time Scene Text Detection with DB)
    expect(unclipped([100, 50, 80, 20], 1.5)).toEqual([88, 38, 104, 44]);
    fc.assert(
      fc.property(box, (one) => {
        const out = unclipped(one, 1.6);
        expect(holds(out, one)).toBe(true);
        expect(out[0] + out[2] / 2).toBeCloseTo(one[0] + one[2] / 2, 6);
        expect(out[2] - one[2]).toBeCloseTo(out[3] - one[3], 6);
      }),
    );
  });

  it('are read line by line, and none is lost', () => {
    const words = [
      { box: [200, 12, 60, 20] as FoundBox, word: 'second' },
      { box: [10, 60, 90, 20] as FoundBox, word: 'third' },
      { box: [10, 10, 90, 20] as FoundBox, word: 'first' },
    ];
    expect(inReadingOrder(words).map(({ word }) => word)).toEqual(['first', 'second', 'third']);
    fc.assert(
      fc.property(fc.array(box), (many) => {
        const items = many.map((one) => ({ box: one }));
        const ordered = inReadingOrder(items);
        expect(ordered.length).toBe(items.length);
        expect(new Set(ordered)).toEqual(new Set(items));
      }),
    );
  });
});
