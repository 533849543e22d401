import { COVER_GREY } from '../../core/cover-grey.js';
import type { FoundBox } from '../../finders/finder.js';

/** Paints boxes solid, in place. Boxes reaching out of the picture are painted as far as it goes. */
export function paintBoxes(
  samples: Uint8Array,
  size: { widthPx: number; heightPx: number; channels: 1 | 3 },
  boxes: readonly FoundBox[],
): void {
  const { widthPx, heightPx, channels } = size;
  if (samples.length !== widthPx * heightPx * channels) {
    throw new Error('the samples do not fit the size of the picture');
  }
  for (const [x, y, width, height] of boxes) {
    const left = Math.max(0, Math.floor(x));
    const right = Math.min(widthPx, Math.ceil(x + width));
    const bottom = Math.min(heightPx, Math.ceil(y + height));
    if (right <= left) continue;
    for (let row = Math.max(0, Math.floor(y)); row < bottom; row += 1) {
      const start = row * widthPx;
      samples.fill(COVER_GREY, (start + left) * channels, (start + right) * channels);
    }
  }
}
