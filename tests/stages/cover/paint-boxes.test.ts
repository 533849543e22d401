import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FoundBox } from '../../../src/finders/finder.js';
import { paintBoxes } from '../../../src/stages/cover/index.js';

describe('painting covers', () => {
  it('leaves one flat grey in every box and every other sample as it was', () => {
    const anyBox = fc.tuple(
      fc.integer({ min: -9, max: 40 }),
      fc.integer({ min: -9, max: 30 }),
      fc.integer({ min: 0, max: 30 }),
      fc.integer({ min: 0, max: 30 }),
    );
    fc.assert(
      fc.property(
        fc.array(anyBox, { maxLength: 4 }),
        fc.constantFrom(1 as const, 3 as const),
        (boxes, channels) => {
          const size = { widthPx: 31, heightPx: 23, channels };
          const before = Uint8Array.from({ length: 31 * 23 * channels }, (_, at) => (at * 7) % 90);
          const after = before.slice();
          paintBoxes(after, size, boxes as FoundBox[]);
          for (let at = 0; at < after.length; at += 1) {
            const pixel = Math.floor(at / channels);
            const [x, y] = [pixel % 31, Math.floor(pixel / 31)];
            const inside = boxes.some(([l, t, w, h]) => x >= l && x < l + w && y >= t && y < t + h);
            if (after[at] !== (inside ? 160 : before[at])) throw new Error(`sample ${at}`);
          }
        },
      ),
    );
  });

  it('refuses samples that do not fit the size', () => {
    expect(() => paintBoxes(new Uint8Array(5), { widthPx: 2, heightPx: 2, channels: 1 }, [])).toThrow();
  });
});
