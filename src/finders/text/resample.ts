/** Another size of a picture, in plain arithmetic, so that every machine gets the same samples. */
import type { FinderPicture } from '../finder.js';

/** Which source samples make up one sample of the result, and with what weight. */
interface Taps {
  /** First source index of each result sample; the taps follow each other, the edge repeated. */
  first: Int32Array;
  /** `count` weights for each result sample; each set sums to 1. */
  weights: Float32Array;
  count: number;
}

/** Keys' cubic with a = -0.5. */
function cubic(distance: number): number {
  const t = Math.abs(distance);
  if (t < 1) return (1.5 * t - 2.5) * t * t + 1;
  return t < 2 ? ((-0.5 * t + 2.5) * t - 4) * t + 2 : 0;
}

/** The kernel is widened when shrinking, so that fine lines fade instead of turning into moire. */
function tapsOf(fromPx: number, toPx: number): Taps {
  const step = fromPx / toPx;
  const wide = Math.max(1, step);
  const count = Math.ceil(4 * wide) + 1;
  const first = new Int32Array(toPx);
  const weights = new Float32Array(toPx * count);
  for (let i = 0; i < toPx; i++) {
    const centre = (i + 0.5) * step - 0.5;
    const from = Math.ceil(centre - 2 * wide);
    first[i] = from;
    let sum = 0;
    for (let k = 0; k < count; k++) sum += cubic((from + k - centre) / wide);
    for (let k = 0; k < count; k++) weights[i * count + k] = cubic((from + k - centre) / wide) / sum;
  }
  return { first, weights, count };
}

const within = (at: number, length: number): number => (at < 0 ? 0 : at >= length ? length - 1 : at);

/** One row of the source at the new width, not yet rounded. */
function widenRow(picture: FinderPicture, row: number, taps: Taps, into: Float32Array): void {
  const { data, widthPx, channels } = picture;
  const base = row * widthPx * channels;
  const { first, weights, count } = taps;
  for (let x = 0; x < first.length; x++) {
    const from = first[x]!;
    for (let c = 0; c < channels; c++) {
      let sum = 0;
      for (let k = 0; k < count; k++) {
        sum += weights[x * count + k]! * data[base + within(from + k, widthPx) * channels + c]!;
      }
      into[x * channels + c] = sum;
    }
  }
}

/** Cubic interpolation between pixel centres. Holds only the rows it is reading, beside the result. */
export function resampled(picture: FinderPicture, widthPx: number, heightPx: number): FinderPicture {
  if (widthPx === picture.widthPx && heightPx === picture.heightPx) return picture;
  const across = tapsOf(picture.widthPx, widthPx);
  const down = tapsOf(picture.heightPx, heightPx);
  const rowLength = widthPx * picture.channels;
  const rows = Array.from({ length: down.count }, () => new Float32Array(rowLength));
  const held = new Int32Array(down.count).fill(-1);
  const data = new Uint8Array(rowLength * heightPx);
  const rounded = new Uint8ClampedArray(data.buffer);
  const sums = new Float32Array(rowLength);
  for (let y = 0; y < heightPx; y++) {
    sums.fill(0);
    for (let k = 0; k < down.count; k++) {
      const weight = down.weights[y * down.count + k]!;
      if (weight === 0) continue;
      const source = within(down.first[y]! + k, picture.heightPx);
      const slot = source % down.count;
      const row = rows[slot]!;
      if (held[slot] !== source) {
        widenRow(picture, source, across, row);
        held[slot] = source;
      }
      for (let i = 0; i < rowLength; i++) sums[i] = sums[i]! + weight * row[i]!;
    }
    rounded.set(sums, y * rowLength);
  }
  return { data, widthPx, heightPx, channels: picture.channels };
}
