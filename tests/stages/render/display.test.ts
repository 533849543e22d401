import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { greyRangeOf, mapToEightBits } from '../../../src/stages/render/grey-range.js';
import { type Rendered, render } from '../../../src/stages/render/index.js';
import { wrapAsTiff } from '../../../src/stages/render/wrap-as-tiff.js';
import { needsExiftool, tagsIn, withExiftool } from './ask-exiftool.js';
import { factsOf } from './facts-for-tests.js';
import { writePng } from './write-png.js';

/** Smooth colour, so that JPEG itself changes little: what differs then differs by colour management. */
const SMOOTH = Uint8Array.from({ length: 64 * 48 * 3 }, (_, at) => {
  const [x, y] = [Math.floor(at / 3) % 64, Math.floor(at / 192)];
  return [40 + x * 3, 200 - y * 3, 60 + x + y][at % 3]!;
});
const smooth = () => sharp(SMOOTH, { raw: { width: 64, height: 48, channels: 3 } });

async function show(
  bytes: Buffer,
  job: { radiograph?: boolean; flip?: boolean; format?: 'JPEG' | 'PNG' | 'TIFF' | 'WebP' } = {},
): Promise<Rendered> {
  const { radiograph = false, flip = false, format = 'PNG' } = job;
  const rendered = await render({
    original: bytes,
    stripped: bytes,
    facts: factsOf({ format }),
    radiograph,
    flip,
  });
  if (rendered.kind !== 'kept') throw new Error(rendered.reason.code);
  return rendered.value;
}

const rgbOf = (bytes: Uint8Array) => sharp(bytes).toColourspace('srgb').removeAlpha().raw().toBuffer();

const meanDifference = (a: Uint8Array, b: Uint8Array): number => {
  expect(a.length).toBe(b.length);
  return a.reduce((sum, value, at) => sum + Math.abs(value - b[at]!), 0) / a.length;
};

describe('colours', () => {
  test.each(['p3', 'cmyk'] as const)(
    'of a %s profile become what the colour engine makes of the original',
    async (profile) => {
      const original = await smooth()
        .withIccProfile(profile)
        .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
        .toBuffer();
      expect((await sharp(original).metadata()).hasProfile).toBe(true);
      const shown = await show(original, { format: 'JPEG' });
      expect(shown.processing).toEqual(['colours converted to sRGB']);
      const metadata = await sharp(shown.display).metadata();
      expect(metadata).toMatchObject({
        format: 'jpeg',
        channels: 3,
        space: 'srgb',
        hasProfile: false,
        chromaSubsampling: '4:4:4',
      });
      expect(meanDifference(await rgbOf(shown.display), await rgbOf(original))).toBeLessThan(1.5);
      if (profile === 'cmyk') return;
      const unmanaged = await sharp(original, { ignoreIcc: true }).raw().toBuffer();
      expect(meanDifference(unmanaged, await rgbOf(original))).toBeGreaterThan(4);
    },
  );

  test('of CMYK without a profile are converted too', async () => {
    const original = await smooth().toColourspace('cmyk').tiff({ compression: 'lzw' }).toBuffer();
    expect(await sharp(original).metadata()).toMatchObject({ space: 'cmyk' });
    const shown = await show(original, { format: 'TIFF' });
    expect(await sharp(shown.display).metadata()).toMatchObject({ channels: 3, space: 'srgb' });
    expect(meanDifference(await rgbOf(shown.display), await rgbOf(original))).toBeLessThan(1.5);
  });

  test('without a profile stay as they are', async () => {
    const shown = await show(await smooth().png().toBuffer());
    expect(shown.processing).toEqual([]);
    expect(meanDifference(await rgbOf(shown.display), SMOOTH)).toBeLessThan(1);
  });

  test('of 16 bits lose the lower eight', async () => {
    const words = Array.from(SMOOTH, (value) => value * 257);
    const shown = await show(writePng({ widthPx: 64, heightPx: 48, bitDepth: 16, colourType: 2 }, words));
    expect(shown.processing).toEqual(['16 bits reduced to 8']);
    expect(meanDifference(await rgbOf(shown.display), SMOOTH)).toBeLessThan(1);
  });

  test('are shown on white where the picture is transparent', async () => {
    const samples = Array.from({ length: 16 * 16 }, (_, at) =>
      at < 128 ? [200, 0, 0, 255] : [200, 0, 0, 0],
    ).flat();
    const shown = await show(writePng({ widthPx: 16, heightPx: 16, bitDepth: 8, colourType: 6 }, samples));
    expect(shown.processing).toEqual(['transparent parts shown on white']);
    const rgb = await rgbOf(shown.display);
    expect([...rgb.subarray(-3)].every((value) => value > 250)).toBe(true);
    expect(rgb[1]!).toBeLessThan(8);
  });
});

describe('a radiograph', () => {
  test('keeps every grey value and becomes one-channel PNG', async () => {
    const ramp = Array.from({ length: 256 }, (_, at) => at);
    const shown = await show(writePng({ widthPx: 32, heightPx: 8, bitDepth: 8, colourType: 0 }, ramp), {
      radiograph: true,
    });
    expect(shown).toMatchObject({ displayFormat: 'png', widthPx: 32, heightPx: 8, processing: [] });
    const { data, info } = await sharp(shown.display)
      .toColourspace('b-w')
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect(info.channels).toBe(1);
    expect([...data]).toEqual(ramp);
  });

  test('saved as colour keeps every grey value, too', async () => {
    const ramp = Array.from({ length: 256 }, (_, at) => at);
    const colour = ramp.flatMap((value) => [value, value, value]);
    const shown = await show(writePng({ widthPx: 32, heightPx: 8, bitDepth: 8, colourType: 2 }, colour), {
      radiograph: true,
    });
    expect([...(await sharp(shown.display).toColourspace('b-w').raw().toBuffer())]).toEqual(ramp);
  });

  test('tinted becomes grey and says so', async () => {
    const shown = await show(await smooth().png().toBuffer(), { radiograph: true });
    expect(shown.processing).toEqual(['colour turned to grey']);
    expect(await sharp(shown.display).metadata()).toMatchObject({ format: 'png', channels: 1, space: 'b-w' });
  });

  test.each([0, 2] as const)(
    'of 16 bits is ranged over the whole picture, colour type %d',
    async (colourType) => {
      // 12 bits of a sensor in 16: without a range the picture would be black.
      const values = Array.from({ length: 100 * 100 }, (_, at) => 100 + (at % 4000));
      const samples = colourType === 0 ? values : values.flatMap((value) => [value, value, value]);
      const png = writePng({ widthPx: 100, heightPx: 100, bitDepth: 16, colourType }, samples);
      const shown = await show(png, { radiograph: true });
      expect(shown.processing).toEqual([
        'grey range set over the whole picture (0.1 to 99.9 % of its pixels, linear), 16 bits reduced to 8',
      ]);
      const data = await sharp(shown.display).toColourspace('b-w').raw().toBuffer();
      const sorted = values.toSorted((a, b) => a - b);
      const [black, white] = [sorted[9]!, sorted[9989]!];
      const expected = values.map((value) =>
        Math.min(255, Math.max(0, Math.round(((value - black) / (white - black)) * 255))),
      );
      expect([...data]).toEqual(expected);
    },
  );

  test('of 16 bits and tinted is turned to grey first', async () => {
    const words = Array.from(SMOOTH, (value) => value * 200);
    const shown = await show(writePng({ widthPx: 64, heightPx: 48, bitDepth: 16, colourType: 2 }, words), {
      radiograph: true,
    });
    expect(shown.processing[0]).toBe('colour turned to grey');
    const { channels } = await sharp(shown.display).stats();
    expect(channels[0]).toMatchObject({ min: 0, max: 255 });
  });
});

describe('the grey range', () => {
  const samples = fc
    .array(fc.integer({ min: 0, max: 65_535 }), { minLength: 1, maxLength: 3000 })
    .map((values) => Uint16Array.from(values));

  test('never turns the order of two values round, and leaves nothing outside', () => {
    fc.assert(
      fc.property(samples, (values) => {
        const range = greyRangeOf(values);
        expect(range.white).toBeGreaterThan(range.black);
        const mapped = mapToEightBits(values, range);
        const order = [...values.keys()].sort((a, b) => values[a]! - values[b]!);
        for (let at = 1; at < order.length; at++) {
          expect(mapped[order[at]!]!).toBeGreaterThanOrEqual(mapped[order[at - 1]!]!);
        }
      }),
    );
  });

  test('of a picture of one value keeps it between black and white', () => {
    const flat = new Uint16Array(50).fill(30_000);
    expect(mapToEightBits(flat, greyRangeOf(flat))[0]).toBe(Math.round((30_000 / 65_535) * 255));
  });

  test('is not set by one dead pixel in two thousand', () => {
    const values = Uint16Array.from({ length: 2000 }, (_, at) => 1000 + (at % 500));
    values[7] = 65_535;
    values[8] = 0;
    expect(greyRangeOf(values)).toEqual({ black: 1000, white: 1499 });
  });
});

describe('nothing but pixels stands in a display picture', () => {
  const planted = async (): Promise<Buffer> =>
    smooth()
      .withIccProfile('p3')
      .withExif({ IFD0: { Artist: 'planted', ImageDescription: 'planted' } })
      .withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/">planted</x:xmpmeta>')
      .jpeg()
      .toBuffer();

  test('as exiftool sees it', async (context) => {
    needsExiftool(context);
    const original = await planted();
    const colour = await show(original, { format: 'JPEG' });
    const grey = await show(original, { format: 'JPEG', radiograph: true });
    await withExiftool(async (exiftool, folder) => {
      const before = await tagsIn(exiftool, folder, original);
      expect(before).toEqual(expect.arrayContaining(['IFD0:Artist', 'ICC-header:ProfileVersion']));
      expect(await tagsIn(exiftool, folder, colour.display)).toEqual([]);
      const header = [
        'ImageWidth',
        'ImageHeight',
        'BitDepth',
        'ColorType',
        'Compression',
        'Filter',
        'Interlace',
      ];
      expect(await tagsIn(exiftool, folder, grey.display)).toEqual(header.map((tag) => `PNG:${tag}`));
    });
  });

  test('as their bytes show', async () => {
    const original = await planted();
    expect(original.includes('planted')).toBe(true);
    for (const radiograph of [false, true]) {
      const display = Buffer.from((await show(original, { format: 'JPEG', radiograph })).display);
      expect(display.includes('planted')).toBe(false);
      expect(display.includes('ICC_PROFILE')).toBe(false);
    }
    const png = Buffer.from((await show(original, { format: 'JPEG', radiograph: true })).display);
    const types: string[] = [];
    for (let at = 8; at < png.length; at += 12 + png.readUInt32BE(at))
      types.push(png.toString('latin1', at + 4, at + 8));
    expect([...new Set(types)]).toEqual(['IHDR', 'IDAT', 'IEND']);
  });

  test('and the same picture gives the same bytes', async () => {
    const original = await planted();
    expect((await show(original, { format: 'JPEG' })).display).toEqual(
      (await show(original, { format: 'JPEG' })).display,
    );
  });
});

test('what was done is said in order', async () => {
  const original = await smooth().withIccProfile('p3').jpeg().toBuffer();
  const facts = factsOf({ format: 'JPEG', orientation: 6 });
  const rendered = await render({ original, stripped: original, facts, radiograph: false, flip: true });
  expect(rendered).toMatchObject({
    kind: 'kept',
    value: {
      widthPx: 48,
      heightPx: 64,
      processing: ['colours converted to sRGB', 'turned upright', 'mirror view flipped once'],
    },
  });
});

test('decoded pixels wrapped in a TIFF come out unchanged', async () => {
  const profile = (await sharp(await smooth().withIccProfile('p3').png().toBuffer()).metadata()).icc!;
  for (const [channels, colour] of [
    [1, 'grey'],
    [3, 'rgb'],
    [4, 'cmyk'],
  ] as const) {
    for (const bitsPerChannel of [8, 16] as const) {
      const data = Buffer.from(
        Array.from({ length: (5 * 3 * channels * bitsPerChannel) / 8 }, (_, at) => (at * 37) % 256),
      );
      const tiff = wrapAsTiff({
        data,
        widthPx: 5,
        heightPx: 3,
        channels,
        bitsPerChannel,
        colour,
        hasAlpha: false,
        profile,
      });
      const wide = bitsPerChannel === 16;
      const space = { grey: wide ? 'grey16' : 'b-w', rgb: wide ? 'rgb16' : 'srgb', cmyk: 'cmyk' }[colour];
      const read = sharp(tiff, { ignoreIcc: true }).pipelineColourspace(space).toColourspace(space);
      expect(await read.raw({ depth: wide ? 'ushort' : 'uchar' }).toBuffer()).toEqual(data);
      expect((await sharp(tiff).metadata()).icc).toEqual(profile);
    }
  }
});
