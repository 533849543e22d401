import fc from 'fast-check';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { reduce } from '../../../src/stages/render/index.js';

const picture = (width: number, height: number, format: 'jpeg' | 'png' = 'jpeg'): Promise<Buffer> =>
  sharp({ create: { width, height, channels: 3, background: { r: 180, g: 90, b: 60 } } })
    [format]()
    .toBuffer();

async function reduced(
  bytes: Uint8Array,
  maxWidthPx: number,
  maxHeightPx: number,
  grey = false,
  quality?: number,
) {
  const outcome = await reduce({ bytes, maxWidthPx, maxHeightPx, grey, quality });
  if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
  return outcome.value;
}

test('fits the box, keeps proportions and never enlarges', async () => {
  const side = fc.integer({ min: 40, max: 400 });
  await fc.assert(
    fc.asyncProperty(side, side, side, side, async (width, height, maxWidthPx, maxHeightPx) => {
      const { widthPx, heightPx, jpeg } = await reduced(
        await picture(width, height),
        maxWidthPx,
        maxHeightPx,
      );
      const scale = Math.min(1, maxWidthPx / width, maxHeightPx / height);
      expect(widthPx).toBeLessThanOrEqual(Math.min(width, maxWidthPx));
      expect(heightPx).toBeLessThanOrEqual(Math.min(height, maxHeightPx));
      // a JPEG is decoded at a half, a quarter or an eighth first, which rounds once more
      expect(Math.abs(widthPx - width * scale)).toBeLessThanOrEqual(2);
      expect(Math.abs(heightPx - height * scale)).toBeLessThanOrEqual(2);
      expect(await sharp(jpeg).metadata()).toMatchObject({ width: widthPx, height: heightPx });
    }),
    { numRuns: 30 },
  );
});

test('turns an original upright as its EXIF orientation says, and mirrors nothing by itself', async () => {
  const dark = await sharp({ create: { width: 30, height: 30, channels: 3, background: '#000' } })
    .png()
    .toBuffer();
  // black at the top left as shown; TIFF 6.0: orientation 6 is turned by 90 degrees clockwise to be shown
  const upright = sharp({ create: { width: 120, height: 60, channels: 3, background: '#fff' } });
  const shown = await upright
    .composite([{ input: dark, left: 0, top: 0 }])
    .png()
    .toBuffer();
  const turned = await sharp(shown).rotate(270).withMetadata({ orientation: 6 }).jpeg().toBuffer();
  for (const bytes of [turned, shown]) {
    const { jpeg, widthPx, heightPx } = await reduced(bytes, 60, 60, true);
    expect([widthPx, heightPx]).toEqual([60, 30]);
    const pixels = await sharp(jpeg).toColourspace('b-w').raw().toBuffer();
    expect(pixels[5 * 60 + 5]).toBeLessThan(40);
    for (const far of [5 * 60 + 55, 25 * 60 + 5, 25 * 60 + 55]) expect(pixels[far]).toBeGreaterThan(200);
  }
});

test('is one channel when grey, three when not, full colour resolution, baseline', async () => {
  const bytes = await picture(100, 80, 'png');
  const grey = await sharp((await reduced(bytes, 50, 50, true)).jpeg).metadata();
  expect(grey).toMatchObject({ channels: 1, space: 'b-w', isProgressive: false, hasProfile: false });
  const colour = await sharp((await reduced(bytes, 50, 50)).jpeg).metadata();
  expect(colour).toMatchObject({
    channels: 3,
    space: 'srgb',
    chromaSubsampling: '4:4:4',
    isProgressive: false,
  });
});

test('carries no metadata on', async () => {
  const bytes = await sharp(await picture(60, 60))
    .withExif({ IFD0: { Artist: 'planted' } })
    .jpeg()
    .toBuffer();
  expect(bytes.includes('planted')).toBe(true);
  expect(Buffer.from((await reduced(bytes, 30, 30)).jpeg).includes('planted')).toBe(false);
});

test('weighs less at a lower quality', async () => {
  const noise = { type: 'gaussian', mean: 120, sigma: 30 } as const;
  const bytes = await sharp({ create: { width: 200, height: 200, channels: 3, background: '#000', noise } })
    .png()
    .toBuffer();
  const [usual, low] = [await reduced(bytes, 200, 200), await reduced(bytes, 200, 200, false, 60)];
  expect(low.jpeg.length).toBeLessThan(usual.jpeg.length);
});

test('holds a picture that does not decode to its end', async () => {
  const bytes = await sharp(await picture(400, 400))
    .jpeg()
    .toBuffer();
  const cut = bytes.subarray(0, bytes.length * 0.6);
  expect(await reduce({ bytes: cut, maxWidthPx: 50, maxHeightPx: 50, grey: false })).toMatchObject({
    kind: 'held',
    reason: { code: 'damaged' },
  });
});
