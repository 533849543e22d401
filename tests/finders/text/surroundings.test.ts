import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evenedContrast } from '../../../src/finders/text/surroundings.js';

/** The same from its definition: each square of surroundings summed anew. */
function slowly(data: Uint8Array, widthPx: number, heightPx: number, radiusPx: number): number[] {
  return Array.from(data, (value, at) => {
    const [x, y] = [at % widthPx, Math.floor(at / widthPx)];
    const around: number[] = [];
    for (let row = y - radiusPx; row <= y + radiusPx; row++) {
      for (let column = x - radiusPx; column <= x + radiusPx; column++) {
        const [nx, ny] = [
          Math.max(0, Math.min(widthPx - 1, column)),
          Math.max(0, Math.min(heightPx - 1, row)),
        ];
        around.push(data[ny * widthPx + nx]!);
      }
    }
    const mean = around.reduce((sum, one) => sum + one, 0) / around.length;
    const variance = around.reduce((sum, one) => sum + (one - mean) ** 2, 0) / around.length;
    return Math.max(0, Math.min(255, 128 + (45 * (value - mean)) / (Math.sqrt(variance) + 6)));
  });
}

describe('evened contrast', () => {
  it('is what its definition says, to the level', () => {
    const picture = fc
      .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 12 }))
      .chain(([w, h]) =>
        fc.record({
          widthPx: fc.constant(w),
          heightPx: fc.constant(h),
          data: fc.uint8Array({ minLength: w * h, maxLength: w * h }),
        }),
      );
    fc.assert(
      fc.property(picture, fc.integer({ min: 1, max: 9 }), ({ data, widthPx, heightPx }, radiusPx) => {
        const fast = evenedContrast({ data, widthPx, heightPx }, radiusPx).data;
        const slow = slowly(data, widthPx, heightPx, radiusPx);
        for (const [at, value] of fast.entries())
          expect(Math.abs(value - slow[at]!)).toBeLessThanOrEqual(0.6);
      }),
      { numRuns: 60 },
    );
  });

  it('lifts pale lettering over the middle and leaves an even ground in it', () => {
    const data = new Uint8Array(60 * 60).fill(40);
    for (let x = 20; x < 40; x++) data[30 * 60 + x] = 60;
    const out = evenedContrast({ data, widthPx: 60, heightPx: 60 }, 12).data;
    expect(out[30 * 60 + 30]).toBeGreaterThan(190);
    expect(out[5 * 60 + 5]).toBe(128);
  });
});
