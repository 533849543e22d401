import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resampled } from '../../../src/finders/text/resample.js';

const side = fc.integer({ min: 1, max: 40 });

/** A soft scene that is known between the pixels too, sampled at pixel centres of a grid of any width. */
const scene = (x: number, y: number, channel: number): number =>
  128 + 90 * Math.sin(x / 7 + channel) * Math.cos(y / 9);

function sampled(
  widthPx: number,
  heightPx: number,
  channels: 1 | 3,
  sceneWidth: number,
  sceneHeight: number,
) {
  const data = Uint8Array.from({ length: widthPx * heightPx * channels }, (_, i) => {
    const at = Math.floor(i / channels);
    const x = ((at % widthPx) + 0.5) * (sceneWidth / widthPx) - 0.5;
    const y = (Math.floor(at / widthPx) + 0.5) * (sceneHeight / heightPx) - 0.5;
    return Math.round(scene(x, y, i % channels));
  });
  return { data, widthPx, heightPx, channels };
}

describe('resampling', () => {
  it('keeps one even grey even, at any size', () => {
    fc.assert(
      fc.property(side, side, side, side, fc.integer({ min: 0, max: 255 }), (w, h, tw, th, grey) => {
        const flat = {
          data: new Uint8Array(w * h).fill(grey),
          widthPx: w,
          heightPx: h,
          channels: 1 as const,
        };
        const out = resampled(flat, tw, th);
        expect(out.data.length).toBe(tw * th);
        expect(out.data.every((value) => value === grey)).toBe(true);
      }),
    );
  });

  it('mirrors as its source mirrors', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 2, maxLength: 30 }), side, (row, to) => {
        const line = (data: Uint8Array) =>
          resampled({ data, widthPx: data.length, heightPx: 1, channels: 1 }, to, 1).data;
        const [there, back] = [line(row), line(row.toReversed()).toReversed()];
        // the weights are held in 32 bits, so a half may round either way
        for (const [i, value] of there.entries()) expect(Math.abs(value - back[i]!)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it.each([
    [90, 60, 1],
    [30, 21, 1],
    [97, 43, 3],
  ] as const)('to %d x %d is what the scene holds at those pixel centres', (width, height, channels) => {
    const out = resampled(sampled(60, 40, channels, 60, 40), width, height).data;
    const wanted = sampled(width, height, channels, 60, 40).data;
    const apart = Array.from(out, (value, i) => {
      const [x, y] = [Math.floor(i / channels) % width, Math.floor(i / channels / width)];
      // beyond the edge nothing is known
      const inside = Math.min(x, y, width - 1 - x, height - 1 - y) >= 4;
      return inside ? Math.abs(value - wanted[i]!) : 0;
    });
    expect(Math.max(...apart)).toBeLessThanOrEqual(3);
  });
});
