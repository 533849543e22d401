/** The detector net: how likely each pixel belongs to the core of a line of text. */
import type { InferenceSession, Tensor } from 'onnxruntime-node';
import type { FinderPicture, FoundBox } from '../finder.js';
import type { Plane } from './components.js';

/** What a net needs of the runtime, so that nothing else here loads it. */
export interface Net {
  session: InferenceSession;
  tensor(data: Float32Array, shape: readonly number[]): Tensor;
  /** Numbers to work in, kept from run to run: fresh memory costs more here than the arithmetic. */
  scratch(name: 'input' | 'output', length: number): Float32Array;
}

/** The net halves its input five times. */
const GRID_PX = 32;
/** Larger pictures are read in tiles, which bounds the memory of one run to about a gigabyte. */
const TILE_PX = 1984;
const TILE_OVERLAP_PX = 128;

/** Probabilities as 0-255, same size as the picture. */
export async function textMap(net: Net, picture: FinderPicture): Promise<Plane> {
  const { widthPx, heightPx } = picture;
  const map = { data: new Uint8Array(widthPx * heightPx), widthPx, heightPx };
  for (const [top, height] of tilesAlong(heightPx)) {
    for (const [left, width] of tilesAlong(widthPx)) {
      await readTile(net, picture, [left, top, width, height], map);
    }
  }
  return map;
}

/** [start, length] of equal tiles that overlap and together hold the whole length. */
export function tilesAlong(lengthPx: number): [number, number][] {
  if (lengthPx <= TILE_PX) return [[0, lengthPx]];
  const count = Math.ceil((lengthPx - TILE_OVERLAP_PX) / (TILE_PX - TILE_OVERLAP_PX));
  const size = Math.ceil((lengthPx + (count - 1) * TILE_OVERLAP_PX) / count);
  return Array.from({ length: count }, (_, i) => {
    const start = i === count - 1 ? lengthPx - size : i * (size - TILE_OVERLAP_PX);
    return [start, size];
  });
}

async function readTile(
  net: Net,
  picture: FinderPicture,
  [left, top, width, height]: FoundBox,
  map: Plane,
): Promise<void> {
  const paddedWidth = Math.ceil(width / GRID_PX) * GRID_PX;
  const paddedHeight = Math.ceil(height / GRID_PX) * GRID_PX;
  const plane = paddedWidth * paddedHeight;
  const input = net.scratch('input', 3 * plane);
  fillPlanes(input, picture, [left, top, width, height], paddedWidth, paddedHeight);
  const found = net.scratch('output', plane);
  await net.session.run(
    { [net.session.inputNames[0]!]: net.tensor(input, [1, 3, paddedHeight, paddedWidth]) },
    { [net.session.outputNames[0]!]: net.tensor(found, [1, 1, paddedHeight, paddedWidth]) },
  );
  for (let y = 0; y < height; y++) {
    const to = (top + y) * map.widthPx + left;
    for (let x = 0; x < width; x++) {
      const value = (found[y * paddedWidth + x]! * 255 + 0.5) | 0;
      // Where tiles overlap the more certain one counts: the other may see only half a letter.
      if (value > map.data[to + x]!) map.data[to + x] = value;
    }
  }
}

/** Three planes of 0-1, edges copied outwards up to the padded size; no mean and deviation: measured better here. */
function fillPlanes(
  input: Float32Array,
  { data, channels, widthPx }: FinderPicture,
  [left, top, width, height]: FoundBox,
  paddedWidth: number,
  paddedHeight: number,
): void {
  const plane = paddedWidth * paddedHeight;
  for (let y = 0; y < paddedHeight; y++) {
    const row = (top + Math.min(y, height - 1)) * widthPx + left;
    for (let x = 0; x < paddedWidth; x++) {
      const from = (row + Math.min(x, width - 1)) * channels;
      const to = y * paddedWidth + x;
      input[to] = data[from]! / 255;
      input[to + plane] = data[from + (channels === 3 ? 1 : 0)]! / 255;
      input[to + 2 * plane] = data[from + (channels === 3 ? 2 : 0)]! / 255;
    }
  }
}
