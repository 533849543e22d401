/** Quarter turns of pictures, and boxes back out of a turned and scaled view. */
import type { FinderPicture, FoundBox } from '../finder.js';
import type { Size } from './boxes.js';

/** Clockwise quarter turns. */
export type Quarters = 0 | 1 | 2 | 3;

export function turned(picture: FinderPicture, quarters: Quarters): FinderPicture {
  if (quarters === 0) return picture;
  const { data, channels, widthPx, heightPx } = picture;
  const across = quarters === 2;
  const size = across ? { widthPx, heightPx } : { widthPx: heightPx, heightPx: widthPx };
  const out = new Uint8Array(data.length);
  // Where the result's first pixel comes from, and how far the source moves for one step right and one step down.
  const [start, right, down] = {
    1: [(heightPx - 1) * widthPx, -widthPx, 1],
    2: [heightPx * widthPx - 1, -1, -widthPx],
    3: [widthPx - 1, widthPx, -1],
  }[quarters] as [number, number, number];
  let to = 0;
  for (let y = 0; y < size.heightPx; y++) {
    let from = start + y * down;
    for (let x = 0; x < size.widthPx; x++, from += right) {
      for (let c = 0; c < channels; c++) out[to++] = data[from * channels + c]!;
    }
  }
  return { data: out, ...size, channels };
}

/** A box of the turned picture as a box of the picture before its turn; `before` is that picture's size. */
export function turnedBack([x, y, width, height]: FoundBox, quarters: Quarters, before: Size): FoundBox {
  switch (quarters) {
    case 0:
      return [x, y, width, height];
    case 1:
      return [y, before.heightPx - x - width, height, width];
    case 2:
      return [before.widthPx - x - width, before.heightPx - y - height, width, height];
    case 3:
      return [before.widthPx - y - height, x, height, width];
  }
}

/** A box of a scaled picture in pixels of the other size. */
export function scaledBox([x, y, width, height]: FoundBox, from: Size, to: Size): FoundBox {
  const across = to.widthPx / from.widthPx;
  const down = to.heightPx / from.heightPx;
  return [x * across, y * down, width * across, height * down];
}

/** A part of a picture, as a picture. The box lies inside it. */
export function cropped(picture: FinderPicture, [x, y, width, height]: FoundBox): FinderPicture {
  const { channels, widthPx } = picture;
  const data = new Uint8Array(width * height * channels);
  for (let row = 0; row < height; row++) {
    const from = ((y + row) * widthPx + x) * channels;
    data.set(picture.data.subarray(from, from + width * channels), row * width * channels);
  }
  return { data, widthPx: width, heightPx: height, channels };
}
