/** Chooses how one string looks, finds it a place among the others, prints it; nothing when it cannot be read there. */
import type { FoundBox } from '../../../src/finders/finder.js';
import type { Dice } from './dice.js';
import type { GroundKind } from './grounds.js';
import { drawLettering, type Lettering, type Patch } from './lettering.js';
import type { Place } from './places.js';
import { groundUnder, measurePrinted, type Paint, printPatch } from './print-string.js';
import type { TrueString } from './printed-picture.js';
import type { Samples } from './sample-pictures.js';
import { cameraDate, stringOf } from './strings.js';
import { typefacesFor } from './typefaces.js';

type Style = 'plain' | 'outlined' | 'boxed' | 'translucent' | 'low' | 'coloured';

const STYLES: readonly Style[] = [
  ...(['plain', 'plain', 'plain', 'plain', 'plain', 'outlined', 'outlined', 'boxed', 'boxed'] as const),
  ...(['translucent', 'low', 'coloured'] as const),
];
const COLOURS = [
  [255, 214, 0],
  [255, 140, 0],
  [255, 48, 40],
  [60, 230, 90],
  [0, 205, 255],
  [250, 250, 120],
] as const;
/** Strings a person cannot read on this ground are not printed: levels, and times the ground's own deviation. */
const LEAST_CONTRAST = 15;
const LEAST_OVER_UNREST = 1.3;

const grey = (value: number): readonly [number, number, number] => {
  const level = Math.max(0, Math.min(255, Math.round(value)));
  return [level, level, level];
};

function paintFor(style: Style, mean: number, picture: Samples, dice: Dice): Paint {
  const light = mean < 128 ? dice.chance(0.93) : dice.chance(0.25);
  const tone = light ? dice.one([255, 255, 240, 210]) : dice.one([0, 0, 20]);
  const shift = dice.between(18, 42) * (mean < 60 ? 1 : mean > 200 ? -1 : dice.one([-1, 1]));
  const coloured = style === 'coloured' && picture.channels === 3;
  return {
    ink: coloured ? dice.one(COLOURS) : grey(style === 'low' ? mean + shift : tone),
    outline: grey(light ? 0 : 255),
    box: grey(light ? dice.one([0, 0, 40, 70]) : dice.one([255, 230, 200])),
    boxOpacity: dice.between(0.55, 1),
    opacity: style === 'translucent' ? dice.between(0.45, 0.75) : 1,
  };
}

/** Capital height: 7-40 px, small ones more often; a camera's date goes with the picture's height. */
function capitalOf(ground: GroundKind, place: Place, picture: Samples, dice: Dice): number {
  if (place.kind === 'camera-date') return picture.heightPx * dice.between(1 / 40, 1 / 20);
  if (place.banner) return Math.min(place.banner.heightPx * 0.45, dice.between(8, 26));
  const largest = Math.min(40, picture.heightPx / 16);
  const size = 7 + (largest - 7) * dice.unit() ** 2;
  // A still of this size comes from a camera; what is printed into it is sized for it.
  return ground === 'large-still' ? Math.max(size, picture.heightPx / 60) : size;
}

function turnOf(place: Place, dice: Dice): number {
  if (place.banner || place.kind === 'camera-date') return 0;
  const quarters = dice.chance(0.14) ? dice.one([90, 270, 270, 180]) : 0;
  return quarters + (dice.chance(0.12) ? dice.between(-8, 8) : 0);
}

const apart = (a: FoundBox, b: FoundBox, gap: number): boolean =>
  a[0] > b[0] + b[2] + gap ||
  b[0] > a[0] + a[2] + gap ||
  a[1] > b[1] + b[3] + gap ||
  b[1] > a[1] + a[3] + gap;

/** Top left of the patch, or null when it does not fit or would touch another string. */
function spotFor(picture: Samples, place: Place, patch: Patch, others: readonly TrueString[], dice: Dice) {
  const [freeX, freeY] = [picture.widthPx - patch.widthPx, picture.heightPx - patch.heightPx];
  if (freeX < 0 || freeY < 0) return null;
  for (let tries = 0; tries < 8; tries++) {
    const nudge = tries === 0 ? 0 : dice.between(-0.25, 0.25);
    const x = Math.round(freeX * Math.max(0, Math.min(1, place.at[0] + (place.banner ? 0 : nudge))));
    const y = place.banner
      ? Math.round(place.banner.topPx + (place.banner.heightPx - patch.heightPx) / 2)
      : Math.round(freeY * Math.max(0, Math.min(1, place.at[1] + (tries > 2 ? nudge : 0))));
    const top = Math.max(0, Math.min(freeY, y));
    const box: FoundBox = [x, top, patch.widthPx, patch.heightPx];
    if (others.every((other) => apart(box, other.box, 2))) return { x, y: top };
  }
  return null;
}

export async function printOne(
  picture: Samples,
  ground: GroundKind,
  place: Place,
  others: readonly TrueString[],
  dice: Dice,
): Promise<TrueString | null> {
  const kind = place.kind === 'camera-date' ? 'date' : place.kind;
  const text = place.kind === 'camera-date' ? cameraDate(dice) : stringOf(kind, dice);
  const style: Style =
    place.kind === 'camera-date' ? dice.one(['coloured', 'coloured', 'outlined', 'plain']) : dice.one(STYLES);
  const capitalPx = capitalOf(ground, place, picture, dice);
  const lettering: Lettering = {
    text,
    font: dice.one(typefacesFor(text)),
    capitalPx,
    turnDeg: turnOf(place, dice),
    outlinePx: style === 'outlined' ? Math.max(1, capitalPx * dice.between(0.08, 0.16)) : 0,
    boxPx: style === 'boxed' ? dice.between(2, 8) : null,
    aliased: capitalPx > 9 && dice.chance(0.2),
  };
  const patch = await drawLettering(lettering);
  const spot = spotFor(picture, place, patch, others, dice);
  if (!spot) return null;
  const { mean } = groundUnder(picture, spot.x, spot.y, patch);
  const paint = paintFor(style, mean, picture, dice);
  const before = partOf(picture, spot.x, spot.y, patch);
  printPatch(picture, spot.x, spot.y, patch, paint);
  const { box, contrast, unrest } = measurePrinted(picture, spot.x, spot.y, patch);
  const framed = style === 'outlined' || style === 'boxed';
  if (!framed && contrast < Math.max(LEAST_CONTRAST, unrest * LEAST_OVER_UNREST)) {
    putBack(picture, spot.x, spot.y, patch, before);
    return null;
  }
  return { text, kind, box, contrast, framed, capitalPx, turnDeg: lettering.turnDeg };
}

function partOf({ data, widthPx, channels }: Samples, x: number, y: number, patch: Patch): Uint8Array {
  const part = new Uint8Array(patch.widthPx * patch.heightPx * channels);
  for (let row = 0; row < patch.heightPx; row++) {
    const from = ((y + row) * widthPx + x) * channels;
    part.set(data.subarray(from, from + patch.widthPx * channels), row * patch.widthPx * channels);
  }
  return part;
}

function putBack(
  { data, widthPx, channels }: Samples,
  x: number,
  y: number,
  patch: Patch,
  part: Uint8Array,
): void {
  const length = patch.widthPx * channels;
  for (let row = 0; row < patch.heightPx; row++) {
    data.set(part.subarray(row * length, (row + 1) * length), ((y + row) * widthPx + x) * channels);
  }
}
