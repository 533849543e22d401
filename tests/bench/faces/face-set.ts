/**
 * Faces that the detector's own package carries as samples of its use, in six pictures (MIT, @vladmandic/face-api);
 * read from where it is installed, cut here into the views a dental practice takes. Nobody is named, nothing is kept.
 */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import type { FinderPicture } from '../../../src/finders/finder.js';

type Rect = readonly [x: number, y: number, width: number, height: number];

const PACKAGE = createRequire(import.meta.url).resolve('@vladmandic/face-api/package.json');

/** Where the faces lie, looked at one by one; front, three-quarter, looking down, tilted, one in profile. */
export const FACES: readonly { file: string; faces: readonly Rect[] }[] = [
  {
    file: 'sample1.jpg',
    faces: [
      [412, 354, 180, 239],
      [837, 417, 191, 226],
      [1472, 197, 205, 239],
    ],
  },
  {
    file: 'sample2.jpg',
    faces: [
      [1445, 152, 196, 244],
      [897, 223, 156, 228],
      [361, 134, 151, 253],
    ],
  },
  {
    file: 'sample3.jpg',
    faces: [
      [584, 329, 200, 272],
      [1513, 287, 170, 286],
      [1073, 215, 224, 297],
    ],
  },
  {
    file: 'sample4.jpg',
    faces: [
      [663, 49, 185, 264],
      [255, 182, 163, 251],
      [987, 178, 172, 228],
      [1277, 132, 149, 260],
    ],
  },
  {
    file: 'sample5.jpg',
    faces: [
      [786, 108, 155, 213],
      [1111, 197, 161, 238],
      [601, 473, 168, 207],
      [1404, 387, 169, 273],
      [376, 861, 173, 298],
    ],
  },
  {
    file: 'sample6.jpg',
    faces: [
      [679, 319, 161, 307],
      [1178, 306, 190, 277],
      [1485, 259, 211, 300],
      [249, 465, 211, 294],
    ],
  },
];

export const sample = (file: string): Sharp => sharp(join(dirname(PACKAGE), 'demo', file));

export async function samplesOf(image: Sharp): Promise<FinderPicture> {
  const { data, info } = await image.removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return { data, widthPx: info.width, heightPx: info.height, channels: info.channels as 1 | 3 };
}

/** A part of a sample around one face, in shares of the face's box. */
export async function partOf(file: string, face: Rect, [left, top, right, bottom]: Rect): Promise<Buffer> {
  const { width, height } = await sample(file).metadata();
  const [x, y, faceWidth, faceHeight] = face;
  const from = [Math.max(0, x + left * faceWidth), Math.max(0, y + top * faceHeight)].map(Math.round);
  const to = [Math.min(width, x + right * faceWidth), Math.min(height, y + bottom * faceHeight)].map(
    Math.round,
  );
  const part = { left: from[0]!, top: from[1]!, width: to[0]! - from[0]!, height: to[1]! - from[1]! };
  return sample(file).extract(part).png().toBuffer();
}

const PORTRAIT: Rect = [-0.6, -0.5, 1.6, 1.5];

/** Ways in which a face comes into a visit folder. */
export const WAYS: Record<string, (file: string, face: Rect) => Promise<Sharp>> = {
  portrait: async (file, face) => sharp(await partOf(file, face, PORTRAIT)).resize(1200),
  'portrait, grey': async (file, face) =>
    sharp(await partOf(file, face, PORTRAIT))
      .resize(900)
      .toColourspace('b-w'),
  'portrait turned by 90': async (file, face) => sharp(await partOf(file, face, PORTRAIT)).rotate(90),
  'portrait turned by 180': async (file, face) => sharp(await partOf(file, face, PORTRAIT)).rotate(180),
  'portrait turned by 270': async (file, face) => sharp(await partOf(file, face, PORTRAIT)).rotate(270),
  'face fills the picture': async (file, face) => sharp(await partOf(file, face, [0, 0, 1, 1])).resize(1200),
  'one twentieth of the width': async (file, face) => {
    const small = await sharp(await partOf(file, face, PORTRAIT))
      .resize(176)
      .png()
      .toBuffer();
    const ground = {
      width: 1600,
      height: 1200,
      channels: 3 as const,
      background: { r: 120, g: 130, b: 125 },
    };
    const laid = sharp({ create: ground }).composite([{ input: small, left: 1100, top: 300 }]);
    return sharp(await laid.png().toBuffer());
  },
  'eyes and nose': async (file, face) => sharp(await partOf(file, face, [0, 0.1, 1, 0.72])).resize(1400),
  'nose, mouth and chin': async (file, face) =>
    sharp(await partOf(file, face, [-0.1, 0.42, 1.1, 1.1])).resize(1400),
  'mouth and chin': async (file, face) =>
    sharp(await partOf(file, face, [0.1, 0.62, 0.9, 1.02])).resize(1400),
};
