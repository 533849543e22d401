import { describe, expect, it } from 'vitest';
import { INPUT_PX } from '../../../src/finders/faces/face-net.js';
import { viewsOf } from '../../../src/finders/faces/views.js';
import type { FinderPicture, FoundBox } from '../../../src/finders/finder.js';

/** A dark picture with one light box. */
function withMark(
  widthPx: number,
  heightPx: number,
  channels: 1 | 3,
  [x, y, width, height]: FoundBox,
): FinderPicture {
  const data = new Uint8Array(widthPx * heightPx * channels).fill(20);
  for (let row = y; row < y + height; row += 1) {
    data.fill(250, (row * widthPx + x) * channels, (row * widthPx + x + width) * channels);
  }
  return { data, widthPx, heightPx, channels };
}

/** The light places of the first channel inside a part of a view, as one box. */
function markIn(samples: Float32Array, [left, top, width, height]: FoundBox): FoundBox {
  const at: [number, number][] = [];
  for (let y = top; y < top + height; y += 1) {
    for (let x = left; x < left + width; x += 1) if (samples[y * INPUT_PX + x]! > 0.2) at.push([x, y]);
  }
  const [xs, ys] = [at.map(([x]) => x), at.map(([, y]) => y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, Math.max(...xs) + 1 - x, Math.max(...ys) + 1 - y];
}

describe('the views of a picture', () => {
  const mark: FoundBox = [300, 500, 120, 60];
  it.each([
    [1600, 1200, 3],
    [900, 1400, 1],
    [4100, 3000, 3],
  ] as const)(
    'lead back to the place in the picture: %d x %d, %d channels',
    (widthPx, heightPx, channels) => {
      const picture = withMark(widthPx, heightPx, channels, mark);
      const views = viewsOf(picture);
      expect(views.map(({ kind }) => kind)).toEqual(['whole', 'whole', 'whole', 'whole', 'framed']);
      const half = INPUT_PX / 2;
      const parts = (kind: 'whole' | 'framed'): FoundBox[] =>
        kind === 'whole'
          ? [[0, 0, INPUT_PX, INPUT_PX]]
          : [0, 1, 2, 3].map((at): FoundBox => [(at % 2) * half, Math.floor(at / 2) * half, half, half]);
      // one pixel of the smallest view
      const slackPx = (1.5 * Math.max(widthPx, heightPx)) / 216;
      for (const { kind, samples, toPicture } of views) {
        for (const part of parts(kind)) {
          const back = toPicture(markIn(samples, part));
          for (const [at, side] of back.entries()) expect(Math.abs(side - mark[at]!)).toBeLessThan(slackPx);
        }
      }
    },
  );

  it('keep to the range the net knows', () => {
    for (const { samples } of viewsOf(withMark(640, 480, 3, [10, 20, 100, 100]))) {
      expect(samples.length).toBe(3 * INPUT_PX * INPUT_PX);
      expect(samples.every((value) => value >= -1 && value <= 1)).toBe(true);
    }
  });
});
