/** One picture with strings of known place, or without any: drawn, printed, encoded and decoded again. */
import sharp from 'sharp';
import type { FinderPicture, FoundBox } from '../../../src/finders/finder.js';
import { type Dice, openDice } from './dice.js';
import { drawGround, type GroundKind } from './grounds.js';
import { layBanner, placesFor } from './places.js';
import { printOne } from './print-one.js';
import type { Samples } from './sample-pictures.js';
import type { StringKind } from './strings.js';

export interface TrueString {
  text: string;
  kind: StringKind;
  box: FoundBox;
  contrast: number;
  /** Outlined, or on a box of its own. */
  framed: boolean;
  capitalPx: number;
  turnDeg: number;
}

export interface PrintedPicture {
  name: string;
  ground: GroundKind;
  /** As a reader of the file gets it. */
  picture: FinderPicture;
  strings: TrueString[];
}

const RADIOGRAPHS: readonly GroundKind[] = [
  'periapical',
  'periapical',
  'periapical',
  'bitewing',
  'panoramic',
  'slice',
];

/** Most are radiographs; each eighth is a microscope still and each eighth a large still of a camera. */
const groundOf = (index: number, dice: Dice): GroundKind =>
  index % 8 === 3 ? 'still' : index % 8 === 7 ? 'large-still' : dice.one(RADIOGRAPHS);

const threeChannels = (ground: Samples): Samples => {
  if (ground.channels === 3) return ground;
  const data = new Uint8Array(ground.data.length * 3);
  ground.data.forEach((value, at) => {
    data.fill(value, at * 3, at * 3 + 3);
  });
  return { ...ground, data, channels: 3 };
};

async function throughFile(samples: Samples, dice: Dice): Promise<FinderPicture> {
  const raw = { width: samples.widthPx, height: samples.heightPx, channels: samples.channels };
  const quality = dice.whole(60, 97);
  const image = sharp(samples.data, { raw }).toColourspace(samples.channels === 1 ? 'b-w' : 'srgb');
  const file = dice.chance(0.75)
    ? await image.jpeg({ quality, chromaSubsampling: dice.one(['4:2:0', '4:4:4']) }).toBuffer()
    : await image.png({ compressionLevel: 1 }).toBuffer();
  const { data, info } = await sharp(file)
    .toColourspace(samples.channels === 1 ? 'b-w' : 'srgb')
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  return {
    data: new Uint8Array(data),
    widthPx: info.width,
    heightPx: info.height,
    channels: info.channels as 1 | 3,
  };
}

/** @param index which picture of the seed's series; each depends on its own number alone */
export async function printedPicture(seed: number, index: number): Promise<PrintedPicture> {
  const dice = openDice(seed, index * 2 + 1);
  const kind = groundOf(index, dice);
  let samples = await drawGround(kind, dice);
  if (dice.chance(0.5)) samples = threeChannels(samples);
  const banner = kind === 'large-still' ? null : layBanner(samples, dice);
  const strings: TrueString[] = [];
  for (const place of placesFor(kind, banner, dice)) {
    // Another look when the first could not be read where it would stand.
    let printed = await printOne(samples, kind, place, strings, dice);
    for (let tries = 0; !printed && tries < 2; tries++) {
      printed = await printOne(samples, kind, place, strings, dice);
    }
    if (printed) strings.push(printed);
  }
  const name = `${seed}-${String(index).padStart(3, '0')}-${kind}`;
  return { name, ground: kind, picture: await throughFile(samples, dice), strings };
}

export async function emptyPicture(seed: number, index: number): Promise<PrintedPicture> {
  const dice = openDice(seed, index * 2 + 2);
  const kind = groundOf(index, dice);
  let samples = await drawGround(kind, dice);
  if (dice.chance(0.5)) samples = threeChannels(samples);
  if (kind !== 'large-still') layBanner(samples, dice);
  const name = `${seed}-empty-${String(index).padStart(3, '0')}-${kind}`;
  return { name, ground: kind, picture: await throughFile(samples, dice), strings: [] };
}
