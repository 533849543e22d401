import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import { afterAll, describe, expect, test } from 'vitest';
import { heic } from '../../src/formats/heic/index.js';
import { drawColour, drawGrey16 } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { afterStart, segment } from '../fixtures/jpeg-pieces.js';
import { strippedBytesLater } from './stripped.js';

/**
 * Files as an encoder writes them, against libheif's own converter (heif-enc and heif-convert of libheif-examples):
 * HEVC by the same
 * library built for this machine, everything around it by code that shares nothing with this project's.
 */
const absent = ['heif-enc', 'heif-convert'].filter((tool) => spawnSync(tool, ['--help']).error);
const folder = mkdtempSync(join(tmpdir(), 'heic-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function encode(picture: Buffer, extension: 'png' | 'jpg', ...options: string[]): Promise<Buffer> {
  const [source, made] = [join(folder, `source.${extension}`), join(folder, 'made.heic')];
  writeFileSync(source, picture);
  execFileSync('heif-enc', [...options, source, '-o', made], { stdio: 'ignore' });
  return readFileSync(made);
}

async function converted(file: Buffer): Promise<Sharp> {
  const [made, out] = [join(folder, 'asked.heic'), join(folder, 'converted.png')];
  writeFileSync(made, file);
  execFileSync('heif-convert', [made, out], { stdio: 'ignore' });
  return sharp(readFileSync(out), { ignoreIcc: true }).removeAlpha().toColourspace('srgb');
}

const differences = (a: Buffer, b: Buffer): { worst: number; mean: number } => {
  const all = [...a].map((value, at) => Math.abs(value - b[at]!));
  return {
    worst: Math.max(
      Math.abs(a.length - b.length),
      all.reduce((most, one) => Math.max(most, one), 0),
    ),
    mean: all.reduce((sum, one) => sum + one, 0) / all.length,
  };
};

/** On a user's machine a test without its tools is left out with the reason; under CI it fails. */
function needTools(context: { skip(reason: string): void }): void {
  if (absent.length > 0 && !process.env['CI']) context.skip(`not installed: ${absent.join(', ')}`);
}

const FULL = ['-p', 'chroma=444'];

describe('a HEIC that heif-enc wrote', () => {
  test.for<[string, () => Promise<Buffer>, worst: number]>([
    [
      'of colours at full size',
      async () => encode(await drawColour(128, 96).png().toBuffer(), 'png', ...FULL),
      1,
    ],
    ['of odd size', async () => encode(await drawColour().png().toBuffer(), 'png', ...FULL), 1],
    ['without loss', async () => encode(await drawColour().png().toBuffer(), 'png', '-L', ...FULL), 1],
    ['of colours at half size', async () => encode(await drawColour().png().toBuffer(), 'png'), 1],
    ['of grey', async () => encode(await drawColour().grayscale().png().toBuffer(), 'png'), 1],
    [
      'with a thumbnail',
      async () => encode(await drawColour(300, 200).png().toBuffer(), 'png', '-t', '64', ...FULL),
      1,
    ],
    ['of ten bits', async () => encode(await drawGrey16().png().toBuffer(), 'png', '-b', '10'), 2],
    [
      'of a profile',
      async () => encode(await drawColour().withIccProfile('p3').png().toBuffer(), 'png', ...FULL),
      1,
    ],
  ])('%s becomes what heif-convert makes of it', async ([, make, worst], context) => {
    needTools(context);
    const file = await make();
    const ours = await sharp(await strippedBytesLater(file), { ignoreIcc: true })
      .raw()
      .toBuffer();
    const found = differences(ours, await (await converted(file)).raw().toBuffer());
    expect(found.worst).toBeLessThanOrEqual(worst);
  });

  test('from a JPEG that lies on its side stands as heif-convert shows it', async (context) => {
    needTools(context);
    const block = exifBlock([{ tag: 274, type: 3, value: 6 }]);
    const jpeg = afterStart(
      await drawColour().jpeg().toBuffer(),
      segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), block])),
    );
    const file = await encode(jpeg, 'jpg', ...FULL);
    const survey = heic.survey(file);
    const { width, height } = await sharp(await (await converted(file)).png().toBuffer()).metadata();
    expect(survey).toMatchObject({
      kind: 'kept',
      value: { widthPx: width, heightPx: height, upright: true },
    });
  });

  test('as AVIF is held', async (context) => {
    needTools(context);
    expect(heic.survey(await encode(await drawColour().png().toBuffer(), 'png', '-A'))).toMatchObject({
      reason: { code: 'unusual' },
    });
  });
});
