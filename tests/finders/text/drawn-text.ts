/** Small pictures with text, for the tests of the finder. Names are invented. */
import type { FinderPicture, FoundBox } from '../../../src/finders/finder.js';
import { drawLettering, type Lettering } from '../../bench/text/lettering.js';
import { measurePrinted, printPatch } from '../../bench/text/print-string.js';
import { typefacesFor } from '../../bench/text/typefaces.js';

type Colour = readonly [number, number, number];

/** A quiet uneven ground, as of a film without anything on it. */
export function ground(widthPx: number, heightPx: number, grey: number, channels: 1 | 3 = 1): FinderPicture {
  const data = new Uint8Array(widthPx * heightPx * channels);
  for (let at = 0; at < widthPx * heightPx; at++) {
    const [x, y] = [at % widthPx, Math.floor(at / widthPx)];
    const value = grey + 6 * Math.sin(x / 41) * Math.cos(y / 57);
    data.fill(Math.max(0, Math.min(255, value)), at * channels, (at + 1) * channels);
  }
  return { data, widthPx, heightPx, channels };
}

interface Print {
  text: string;
  capitalPx: number;
  /** Shares of the free room, 0-1. */
  at: readonly [number, number];
  colour: Colour;
  turnDeg?: number;
}

/** Prints in place; the box of the ink. */
export async function print(picture: FinderPicture, wish: Print): Promise<FoundBox> {
  const lettering: Lettering = {
    text: wish.text,
    font: typefacesFor(wish.text)[0]!,
    capitalPx: wish.capitalPx,
    turnDeg: wish.turnDeg ?? 0,
    outlinePx: 0,
    boxPx: null,
    aliased: false,
  };
  const patch = await drawLettering(lettering);
  const x = Math.round((picture.widthPx - patch.widthPx) * wish.at[0]);
  const y = Math.round((picture.heightPx - patch.heightPx) * wish.at[1]);
  const black = [0, 0, 0] as const;
  printPatch(picture, x, y, patch, {
    ink: wish.colour,
    outline: black,
    box: black,
    boxOpacity: 0,
    opacity: 1,
  });
  return measurePrinted(picture, x, y, patch).box;
}
