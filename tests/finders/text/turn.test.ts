import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { FinderPicture, FoundBox } from '../../../src/finders/finder.js';
import { cropped, type Quarters, scaledBox, turned, turnedBack } from '../../../src/finders/text/turn.js';

const picture: fc.Arbitrary<FinderPicture> = fc
  .tuple(
    fc.integer({ min: 1, max: 12 }),
    fc.integer({ min: 1, max: 12 }),
    fc.constantFrom(1 as const, 3 as const),
  )
  .chain(([widthPx, heightPx, channels]) => {
    const length = widthPx * heightPx * channels;
    return fc
      .uint8Array({ minLength: length, maxLength: length })
      .map((data) => ({ data, widthPx, heightPx, channels }));
  });
const quarters = fc.constantFrom<Quarters>(0, 1, 2, 3);

/** A box inside a picture, from two shares each way. */
function boxIn({ widthPx, heightPx }: FinderPicture, shares: readonly number[]): FoundBox {
  const [x, y] = [Math.floor(shares[0]! * widthPx), Math.floor(shares[1]! * heightPx)];
  return [x, y, 1 + Math.floor(shares[2]! * (widthPx - x)), 1 + Math.floor(shares[3]! * (heightPx - y))];
}
const share = fc.double({ min: 0, max: 0.999, noNaN: true });
const shares = fc.tuple(share, share, share, share);

describe('quarter turns', () => {
  it('are those that an image library makes', async () => {
    const data = Uint8Array.from({ length: 5 * 3 * 3 }, (_, i) => i * 5);
    for (const way of [1, 2, 3] as const) {
      const raw = { width: 5, height: 3, channels: 3 as const };
      const wanted = await sharp(data, { raw })
        .rotate(way * 90)
        .raw()
        .toBuffer();
      expect([...turned({ data, widthPx: 5, heightPx: 3, channels: 3 }, way).data]).toEqual([...wanted]);
    }
  });

  it('end where they began after going round', () => {
    fc.assert(
      fc.property(picture, quarters, (one, way) => {
        const back = ((4 - way) % 4) as Quarters;
        expect(turned(turned(one, way), back)).toEqual(one);
      }),
    );
  });

  it('bring a box back to the pixels it held in the turned picture', () => {
    fc.assert(
      fc.property(picture, quarters, shares, (one, way, where) => {
        const view = turned(one, way);
        const box = boxIn(view, where);
        const upright = turnedBack(box, way, one);
        expect(turned(cropped(one, upright), way)).toEqual(cropped(view, box));
      }),
    );
  });
});

describe('scaled boxes', () => {
  it('come back to where they were', () => {
    const big = { widthPx: 4000, heightPx: 3000 };
    const small = { widthPx: 1673, heightPx: 1255 };
    fc.assert(
      fc.property(shares, (where) => {
        const box: FoundBox = [where[0] * 4000, where[1] * 3000, where[2] * 900, where[3] * 90];
        const back = scaledBox(scaledBox(box, big, small), small, big);
        for (const [i, value] of back.entries()) expect(value).toBeCloseTo(box[i]!, 6);
      }),
    );
  });

  it('reach the far edge exactly', () => {
    const box = scaledBox(
      [0, 0, 320, 200],
      { widthPx: 320, heightPx: 200 },
      { widthPx: 4001, heightPx: 2999 },
    );
    expect(box).toEqual([0, 0, 4001, 2999]);
  });
});
