/** Every pixel against the square around it; the edge is repeated outside. All pure. */
import type { FinderPicture } from '../finder.js';
import type { Plane } from './components.js';

/** Grey levels of the result for one deviation of the surroundings. */
const GAIN = 45;
/** Levels added to the deviation, so that the grain of an empty ground stays grain. */
const CALM = 6;

/**
 * Brings pale lettering up: every pixel by how far it stands off its surroundings, measured in their own unrest.
 * @param radiusPx half the side of the square that counts as surroundings
 */
export function evenedContrast(plane: Plane, radiusPx: number): FinderPicture {
  const data = againstSurroundings(plane, radiusPx, (value, mean, meanSquare) => {
    const deviation = Math.sqrt(Math.max(0, meanSquare - mean * mean));
    return 128 + (GAIN * (value - mean)) / (deviation + CALM);
  });
  return { data, widthPx: plane.widthPx, heightPx: plane.heightPx, channels: 1 };
}

/** 128 and the levels by which each pixel is lighter or darker than the mean around it. */
export function offSurroundings(plane: Plane, radiusPx: number): Plane {
  return { ...plane, data: againstSurroundings(plane, radiusPx, (value, mean) => 128 + value - mean) };
}

/** Rounds what `of` gives for a pixel's value, and the mean and mean square around it, to 0-255. */
function againstSurroundings(
  { data, widthPx, heightPx }: Plane,
  radiusPx: number,
  of: (value: number, mean: number, meanSquare: number) => number,
): Uint8Array {
  const out = new Uint8ClampedArray(data.length);
  const count = (2 * radiusPx + 1) ** 2;
  const sums = new Float64Array(widthPx);
  const squares = new Float64Array(widthPx);
  const within = (at: number, length: number): number => Math.max(0, Math.min(length - 1, at));
  const addRow = (row: number, sign: 1 | -1): void => {
    const from = within(row, heightPx) * widthPx;
    for (let x = 0; x < widthPx; x++) {
      const value = data[from + x]!;
      sums[x] = sums[x]! + sign * value;
      squares[x] = squares[x]! + sign * value * value;
    }
  };
  for (let row = -radiusPx; row < radiusPx; row++) addRow(row, 1);
  for (let y = 0; y < heightPx; y++) {
    addRow(y + radiusPx, 1);
    let sum = 0;
    let square = 0;
    for (let k = -radiusPx; k < radiusPx; k++) {
      sum += sums[within(k, widthPx)]!;
      square += squares[within(k, widthPx)]!;
    }
    for (let x = 0; x < widthPx; x++) {
      const enters = within(x + radiusPx, widthPx);
      sum += sums[enters]!;
      square += squares[enters]!;
      out[y * widthPx + x] = of(data[y * widthPx + x]!, sum / count, square / count);
      const leaves = within(x - radiusPx, widthPx);
      sum -= sums[leaves]!;
      square -= squares[leaves]!;
    }
    addRow(y - radiusPx, -1);
  }
  return new Uint8Array(out.buffer);
}
