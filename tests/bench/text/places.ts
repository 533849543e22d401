/** Where programs and cameras print: corners, banners, edges, now and then over the anatomy. */
import type { Dice } from './dice.js';
import type { GroundKind } from './grounds.js';
import type { Samples } from './sample-pictures.js';
import type { StringKind } from './strings.js';

export interface Banner {
  topPx: number;
  heightPx: number;
  tone: number;
}

export interface Place {
  kind: StringKind | 'camera-date';
  /** Which part of the free room, 0-1 across and down. */
  at: readonly [number, number];
  banner: Banner | null;
}

/** Lays a flat strip over the upper or lower edge of some pictures, in place. */
export function layBanner(picture: Samples, dice: Dice): Banner | null {
  if (!dice.chance(0.25)) return null;
  const heightPx = Math.round(Math.min(picture.heightPx / 9, dice.between(26, 70)));
  const topPx = dice.chance(0.5) ? 0 : picture.heightPx - heightPx;
  const tone = dice.one([0, 0, 20, 60, 128, 235, 255]);
  const row = picture.widthPx * picture.channels;
  picture.data.fill(tone, topPx * row, (topPx + heightPx) * row);
  return { topPx, heightPx, tone };
}

const IDENTIFYING: readonly StringKind[] = [
  'name',
  'name',
  'name',
  'date',
  'date',
  'chart',
  'clinic',
  'number',
];
const CORNERS: readonly (readonly [number, number])[] = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
];

export function placesFor(ground: GroundKind, banner: Banner | null, dice: Dice): Place[] {
  if (ground === 'large-still') {
    const date: Place = {
      kind: 'camera-date',
      at: [dice.chance(0.75) ? 1 : 0, dice.chance(0.8) ? 1 : 0],
      banner: null,
    };
    const more: Place = { kind: dice.one(IDENTIFYING), at: [0, dice.unit()], banner: null };
    return dice.chance(0.3) ? [date, more] : [date];
  }
  const places: Place[] = [];
  const add = (kind: StringKind, at: readonly [number, number], on: Banner | null = null): void => {
    places.push({ kind, at, banner: on });
  };
  if (banner) for (const x of [0, 0.5, 1]) if (dice.chance(0.8)) add(dice.one(IDENTIFYING), [x, 0.5], banner);
  for (const corner of CORNERS) if (dice.chance(0.5)) add(dice.one(IDENTIFYING), corner);
  if (dice.chance(0.4)) add(dice.one(IDENTIFYING), [dice.unit(), dice.unit()]);
  if (dice.chance(0.3)) add('scale', [dice.one([0.02, 0.98]), dice.unit()]);
  if (ground !== 'still') {
    if (dice.chance(0.35)) add('side', [dice.one([0.02, 0.98]), dice.unit()]);
    if (dice.chance(0.2)) add('tooth', [dice.unit(), dice.unit()]);
  }
  return places;
}
