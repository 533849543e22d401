/**
 * The ways in which the net is shown a picture. It knows faces upright and of middling size with something around
 * them; so it sees the picture whole in each quarter turn, and all four turns together at less than half the size,
 * each with a margin: there a face that fills the picture, or a part of one, looks like a face in a frame.
 */
import type { FinderPicture, FoundBox } from '../finder.js';
import type { Size } from '../text/boxes.js';
import { resampled } from '../text/resample.js';
import { type Quarters, scaledBox, turned, turnedBack } from '../text/turn.js';
import { INPUT_PX } from './face-net.js';

/** A picture of the net's size, channels first, -1 to 1. */
export interface View {
  samples: Float32Array;
  kind: 'whole' | 'framed';
  /** From a box of the view, in its pixels, to one of the picture. */
  toPicture(box: FoundBox): FoundBox;
}

const QUARTERS: readonly Quarters[] = [0, 1, 2, 3];
/** Side of one of four frames, and of the picture in it. */
const FRAME_PX = INPUT_PX / 2;
const FRAMED_PX = 216;
const MARGIN_PX = (FRAME_PX - FRAMED_PX) / 2;
/** Of the margin, 0-255. */
const MARGIN_GREY = 110;
/** Pictures are first averaged down to no less than this, which is much faster than weighing every pixel. */
const COARSE_PX = INPUT_PX * 2;

export function viewsOf(picture: FinderPicture): View[] {
  const whole = fitted(coarse(picture), INPUT_PX);
  const small = fitted(whole, FRAMED_PX);
  return [...QUARTERS.map((quarters) => wholeView(whole, quarters, picture)), framedView(small, picture)];
}

function fitted(picture: FinderPicture, longestPx: number): FinderPicture {
  const scale = longestPx / Math.max(picture.widthPx, picture.heightPx);
  const sized = (px: number): number => Math.max(1, Math.round(px * scale));
  return resampled(picture, sized(picture.widthPx), sized(picture.heightPx));
}

/** Means of whole blocks; the last columns and rows that fill no block are left out. */
function coarse(picture: FinderPicture): FinderPicture {
  const { data, widthPx, heightPx, channels } = picture;
  const side = Math.floor(Math.max(widthPx, heightPx) / COARSE_PX);
  if (side < 2 || Math.min(widthPx, heightPx) < side) return picture;
  const [width, height] = [Math.floor(widthPx / side), Math.floor(heightPx / side)];
  const out = new Uint8Array(width * height * channels);
  const sums = new Uint32Array(width * channels);
  for (let y = 0; y < height; y += 1) {
    sums.fill(0);
    for (let row = y * side; row < (y + 1) * side; row += 1) {
      let from = row * widthPx * channels;
      for (let x = 0; x < width; x += 1) {
        for (let column = 0; column < side; column += 1) {
          for (let c = 0; c < channels; c += 1) sums[x * channels + c]! += data[from++]!;
        }
      }
    }
    for (let at = 0; at < sums.length; at += 1) out[y * sums.length + at] = sums[at]! / (side * side);
  }
  return { data: out, widthPx: width, heightPx: height, channels };
}

const flat = (grey: number): Float32Array => new Float32Array(3 * INPUT_PX * INPUT_PX).fill(grey / 127.5 - 1);

function put(samples: Float32Array, picture: FinderPicture, left: number, top: number): void {
  const { data, widthPx, heightPx, channels } = picture;
  for (let channel = 0; channel < 3; channel += 1) {
    const from = channels === 1 ? 0 : channel;
    for (let y = 0; y < heightPx; y += 1) {
      const row = (channel * INPUT_PX + top + y) * INPUT_PX + left;
      for (let x = 0; x < widthPx; x += 1) {
        samples[row + x] = data[(y * widthPx + x) * channels + from]! / 127.5 - 1;
      }
    }
  }
}

/** In the upper left corner, black beside and below, as the net was trained. */
function wholeView(whole: FinderPicture, quarters: Quarters, picture: Size): View {
  const samples = flat(0);
  put(samples, turned(whole, quarters), 0, 0);
  return {
    samples,
    kind: 'whole',
    toPicture: (box) => scaledBox(turnedBack(box, quarters, whole), whole, picture),
  };
}

const frameOf = (quarters: number): [left: number, top: number] => [
  (quarters % 2) * FRAME_PX,
  Math.floor(quarters / 2) * FRAME_PX,
];

function framedView(small: FinderPicture, picture: Size): View {
  const samples = flat(MARGIN_GREY);
  const places = QUARTERS.map((quarters) => {
    const shown = turned(small, quarters);
    const [left, top] = frameOf(quarters);
    const place = [
      left + MARGIN_PX + Math.floor((FRAMED_PX - shown.widthPx) / 2),
      top + MARGIN_PX + Math.floor((FRAMED_PX - shown.heightPx) / 2),
    ] as const;
    put(samples, shown, ...place);
    return place;
  });
  return {
    samples,
    kind: 'framed',
    toPicture: ([x, y, width, height]) => {
      const half = (at: number, length: number): number => (at + length / 2 < FRAME_PX ? 0 : 1);
      const quarters = (half(x, width) + 2 * half(y, height)) as Quarters;
      const [left, top] = places[quarters]!;
      return scaledBox(turnedBack([x - left, y - top, width, height], quarters, small), small, picture);
    },
  };
}
