/** Prints one drawn string into a picture and says how plainly it stands there. */
import type { FoundBox } from '../../../src/finders/finder.js';
import type { Patch } from './lettering.js';
import type { Samples } from './sample-pictures.js';

type Colour = readonly [number, number, number];

export interface Paint {
  ink: Colour;
  outline: Colour;
  box: Colour;
  boxOpacity: number;
  opacity: number;
}

export interface Printed {
  /** The ink alone. */
  box: FoundBox;
  /** Grey levels between the ink and what lies around it, as printed. */
  contrast: number;
  /** Standard deviation of what lies around it. */
  unrest: number;
}

const lumaAt = ({ data, channels }: Samples, at: number): number =>
  channels === 1 ? data[at]! : 0.299 * data[at * 3]! + 0.587 * data[at * 3 + 1]! + 0.114 * data[at * 3 + 2]!;

/** Mean and deviation of the ground under a patch. */
export function groundUnder(
  picture: Samples,
  x: number,
  y: number,
  patch: Patch,
): { mean: number; sd: number } {
  let [count, sum, squares] = [0, 0, 0];
  for (let row = 0; row < patch.heightPx; row += 2) {
    for (let column = 0; column < patch.widthPx; column += 2) {
      const value = lumaAt(picture, (y + row) * picture.widthPx + x + column);
      count += 1;
      sum += value;
      squares += value * value;
    }
  }
  const mean = sum / count;
  return { mean, sd: Math.sqrt(Math.max(0, squares / count - mean * mean)) };
}

/** Paints in place; the patch lies wholly inside the picture. */
export function printPatch(picture: Samples, x: number, y: number, patch: Patch, paint: Paint): void {
  const { data, channels, widthPx } = picture;
  const layers = [
    [patch.box, paint.box, paint.boxOpacity],
    [patch.outline, paint.outline, paint.opacity],
    [patch.ink, paint.ink, paint.opacity],
  ] as const;
  for (let at = 0; at < patch.ink.length; at++) {
    const column = at % patch.widthPx;
    const to = ((y + (at - column) / patch.widthPx) * widthPx + x + column) * channels;
    for (const [cover, colour, opacity] of layers) {
      const share = (cover[at]! / 255) * opacity;
      if (share === 0) continue;
      for (let c = 0; c < channels; c++) {
        data[to + c] = Math.round(data[to + c]! * (1 - share) + colour[c]! * share);
      }
    }
  }
}

/** Box of the ink and its contrast, measured in the painted picture. */
export function measurePrinted(picture: Samples, x: number, y: number, patch: Patch): Printed {
  let [left, top, right, bottom] = [patch.widthPx, patch.heightPx, -1, -1];
  const ink = { count: 0, sum: 0 };
  const around = { count: 0, sum: 0, squares: 0 };
  for (let at = 0; at < patch.ink.length; at++) {
    const column = at % patch.widthPx;
    const row = (at - column) / patch.widthPx;
    const cover = patch.ink[at]!;
    if (cover >= 64) {
      left = Math.min(left, column);
      right = Math.max(right, column);
      top = Math.min(top, row);
      bottom = Math.max(bottom, row);
    }
    const value = lumaAt(picture, (y + row) * picture.widthPx + x + column);
    if (cover >= 160) {
      ink.count += 1;
      ink.sum += value;
    } else if (cover < 8) {
      around.count += 1;
      around.sum += value;
      around.squares += value * value;
    }
  }
  const mean = around.sum / Math.max(1, around.count);
  return {
    box: [x + left, y + top, right - left + 1, bottom - top + 1],
    contrast: Math.abs(ink.sum / Math.max(1, ink.count) - mean),
    unrest: Math.sqrt(Math.max(0, around.squares / Math.max(1, around.count) - mean * mean)),
  };
}
