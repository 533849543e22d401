/** Pictures without any text: what the strings are printed on, and the negatives. */
import { smoothNoise } from '../../../sample-images/drawing/noise.js';
import { normalHash } from '../../../sample-images/drawing/seeded.js';
import type { Dice } from './dice.js';
import { drawFurniture } from './furniture.js';
import { type Samples, samplePictures, shaped } from './sample-pictures.js';

export type GroundKind = 'periapical' | 'bitewing' | 'panoramic' | 'slice' | 'still' | 'large-still';

const FILM_SIZES: readonly (readonly [number, number])[] = [
  [1280, 1024],
  [1280, 1024],
  [1280, 1024],
  [1024, 1280],
  [1536, 1024],
  [1100, 800],
  [900, 1200],
  [640, 480],
  [440, 330],
  [1800, 1350],
];
const STILL_SIZES: readonly (readonly [number, number])[] = [
  [1600, 1200],
  [1920, 1080],
  [1280, 720],
  [2592, 1944],
];

interface FilmPart {
  /** Roots up, as in the upper jaw; left to chance when absent. */
  upper?: boolean;
  /** Shows crowns and a little of the roots. */
  crownsOnly?: boolean;
}

/** A crop of a sample film, exposed anew. */
async function filmPart(
  dice: Dice,
  widthPx: number,
  heightPx: number,
  wanted: FilmPart = {},
): Promise<Samples> {
  const film = dice.one(await samplePictures('films'));
  const share = dice.between(0.55, 0.98);
  const height = wanted.crownsOnly ? share * 0.6 : share;
  const top = wanted.crownsOnly ? dice.between(0, 0.06) : dice.between(0, 1 - share);
  return shaped(film, widthPx, heightPx, {
    part: [dice.between(0, 1 - share), top, share, height],
    flip: wanted.upper ?? dice.chance(0.5),
    flop: dice.chance(0.5),
    gain: dice.between(0.65, 1.12),
    lift: dice.between(-14, 22),
    blurPx: dice.between(0, 1.2),
  });
}

async function bitewing(dice: Dice, widthPx: number, heightPx: number): Promise<Samples> {
  const half = Math.round(heightPx * dice.between(0.45, 0.55));
  const upper = await filmPart(dice, widthPx, half, { upper: true, crownsOnly: true });
  const lower = await filmPart(dice, widthPx, heightPx - half, { upper: false, crownsOnly: true });
  const data = new Uint8Array(widthPx * heightPx);
  data.set(upper.data);
  data.set(lower.data, upper.data.length);
  return { data, widthPx, heightPx, channels: 1 };
}

/** Both jaws side by side along a smile, the ghost of the spine in the middle. */
async function panoramic(dice: Dice): Promise<Samples> {
  const [widthPx, heightPx] = dice.one([
    [2400, 1200],
    [2048, 1024],
    [2880, 1400],
  ] as const);
  const rowPx = Math.round(heightPx * 0.34);
  const tilePx = Math.round(rowPx * 1.2);
  const rows: Samples[][] = [[], []];
  for (let at = 0; at < widthPx + tilePx; at += tilePx) {
    for (const [row, tiles] of rows.entries())
      tiles.push(await filmPart(dice, tilePx, rowPx, { upper: row === 0 }));
  }
  const data = new Uint8Array(widthPx * heightPx);
  const seed = dice.whole(1, 1e6);
  const sag = heightPx * dice.between(0.06, 0.14);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const side = (x / widthPx) * 2 - 1;
      const across = y - heightPx * 0.2 + sag * side * side;
      const row = Math.floor(across / rowPx);
      const tile = rows[row]?.[Math.floor(x / tilePx)];
      const soft = 46 + 26 * smoothNoise(x / 190, y / 150, seed) + 60 * Math.exp(-((side / 0.1) ** 2));
      const film = tile ? tile.data[(Math.floor(across) - row * rowPx) * tilePx + (x % tilePx)]! : soft;
      data[y * widthPx + x] = Math.max(0, Math.min(255, 0.7 * film + 0.4 * soft - 8));
    }
  }
  return { data, widthPx, heightPx, channels: 1 };
}

/** A round field of a volume on flat black, soft and grainy. */
async function slice(dice: Dice): Promise<Samples> {
  const size = dice.one([512, 640, 800, 1000]);
  const wide = dice.chance(0.4) ? Math.round(size * 1.3) : size;
  const ground = await filmPart(dice, wide, size);
  const soft = await shaped(ground, wide, size, {
    part: [0, 0, 1, 1],
    flip: false,
    flop: false,
    gain: 0.8,
    lift: 10,
    blurPx: 2.5,
  });
  const radius = size * dice.between(0.42, 0.5);
  const black = dice.whole(0, 16);
  soft.data.forEach((_, at) => {
    const x = at % wide;
    const y = (at - x) / wide;
    if (Math.hypot(x - wide / 2, y - size / 2) > radius) soft.data[at] = black;
  });
  return soft;
}

async function still(dice: Dice, widthPx: number, heightPx: number): Promise<Samples> {
  const source = dice.one(await samplePictures('stills'));
  const share = dice.between(0.6, 0.99);
  return shaped(source, widthPx, heightPx, {
    part: [dice.between(0, 1 - share), dice.between(0, 1 - share), share, share],
    flip: dice.chance(0.5),
    flop: dice.chance(0.5),
    gain: dice.between(0.7, 1.15),
    lift: dice.between(-10, 15),
    blurPx: 0,
  });
}

/** Grain of sensor or film: one tile of normal numbers, laid out again and again from another start in each row. */
function grain(ground: Samples, sd: number, seed: number): void {
  const tile = Float32Array.from({ length: 8192 }, (_, i) => sd * normalHash(i, 3, 5, seed));
  const { data, widthPx, heightPx, channels } = ground;
  for (let y = 0; y < heightPx; y++) {
    const start = (y * 2741) % 8192;
    for (let i = 0; i < widthPx * channels; i++) {
      const at = y * widthPx * channels + i;
      data[at] = Math.max(0, Math.min(255, data[at]! + tile[(start + i * 3) & 8191]!));
    }
  }
}

async function bare(kind: GroundKind, dice: Dice): Promise<Samples> {
  const [filmWidth, filmHeight] = dice.one(FILM_SIZES);
  switch (kind) {
    case 'periapical':
      return filmPart(dice, filmWidth, filmHeight);
    case 'bitewing':
      return bitewing(dice, filmWidth, filmHeight);
    case 'panoramic':
      return panoramic(dice);
    case 'slice':
      return slice(dice);
    case 'still': {
      const [width, height] = dice.one(STILL_SIZES);
      return still(dice, width, height);
    }
    case 'large-still':
      return still(dice, 4000, 3000);
  }
}

export async function drawGround(kind: GroundKind, dice: Dice): Promise<Samples> {
  const ground = await bare(kind, dice);
  grain(ground, dice.between(0.5, kind === 'slice' ? 7 : 4), dice.whole(1, 1e6));
  const film = kind !== 'still' && kind !== 'large-still';
  return film ? drawFurniture(ground, dice, kind === 'slice') : ground;
}
