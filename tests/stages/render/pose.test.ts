import fc from 'fast-check';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, test } from 'vitest';
import { render } from '../../../src/stages/render/index.js';
import { flipped, uprightPose } from '../../../src/stages/render/pose.js';
import { needsExiftool, withExiftool, withOrientation } from './ask-exiftool.js';
import { factsOf } from './facts-for-tests.js';
import { writePng } from './write-png.js';

type Side = 'top' | 'bottom' | 'left' | 'right';
interface Raster {
  widthPx: number;
  heightPx: number;
  values: number[];
}

/** Where row 0 and column 0 lie in the scene: EXIF 2.32 (CIPA DC-008-2019), tag Orientation, word for word. */
const ZEROTH: Record<number, [row: Side, column: Side]> = {
  1: ['top', 'left'],
  2: ['top', 'right'],
  3: ['bottom', 'right'],
  4: ['bottom', 'left'],
  5: ['left', 'top'],
  6: ['right', 'top'],
  7: ['right', 'bottom'],
  8: ['left', 'bottom'],
};

/** The scene, put together pixel by pixel from the words of the table. */
function sceneOf(stored: Raster, orientation: number): Raster {
  const [rowSide, columnSide] = ZEROTH[orientation]!;
  const upright = rowSide === 'top' || rowSide === 'bottom';
  const [widthPx, heightPx] = upright ? [stored.widthPx, stored.heightPx] : [stored.heightPx, stored.widthPx];
  const values = new Array<number>(widthPx * heightPx);
  for (let row = 0; row < stored.heightPx; row++) {
    for (let column = 0; column < stored.widthPx; column++) {
      let x = 0;
      let y = 0;
      for (const [side, away] of [
        [rowSide, row],
        [columnSide, column],
      ] as const) {
        if (side === 'left') x = away;
        if (side === 'right') x = widthPx - 1 - away;
        if (side === 'top') y = away;
        if (side === 'bottom') y = heightPx - 1 - away;
      }
      values[y * widthPx + x] = stored.values[row * stored.widthPx + column]!;
    }
  }
  return { widthPx, heightPx, values };
}

function mirrored({ widthPx, heightPx, values }: Raster): Raster {
  const rows = Array.from({ length: heightPx }, (_, y) =>
    values.slice(y * widthPx, (y + 1) * widthPx).reverse(),
  );
  return { widthPx, heightPx, values: rows.flat() };
}

async function shown(stored: Raster, orientation: number, flip: boolean): Promise<Raster> {
  const png = writePng({ ...stored, bitDepth: 8, colourType: 0 }, stored.values);
  const rendered = await render({
    original: png,
    stripped: png,
    facts: factsOf({ orientation }),
    radiograph: true,
    flip,
  });
  if (rendered.kind !== 'kept') throw new Error(rendered.reason.code);
  const { data, info } = await sharp(rendered.value.display)
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true });
  expect([rendered.value.widthPx, rendered.value.heightPx]).toEqual([info.width, info.height]);
  return { widthPx: info.width, heightPx: info.height, values: [...data] };
}

const raster = fc
  .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 }))
  .chain(([widthPx, heightPx]) =>
    fc
      .array(fc.integer({ min: 0, max: 255 }), {
        minLength: widthPx * heightPx,
        maxLength: widthPx * heightPx,
      })
      .map((values): Raster => ({ widthPx, heightPx, values })),
  );
const orientations = fc.integer({ min: 1, max: 8 });

/** The orientation that undoes another: quarter turns swap, the rest undo themselves. */
const undoing = (orientation: number): number => ({ 6: 8, 8: 6 })[orientation] ?? orientation;

describe('a picture stands upright', () => {
  test('for every orientation, flipped or not, as the EXIF table says', async () => {
    const stored: Raster = { widthPx: 3, heightPx: 2, values: [10, 20, 30, 40, 50, 60] };
    for (let orientation = 1; orientation <= 8; orientation++) {
      const scene = sceneOf(stored, orientation);
      expect(await shown(stored, orientation, false), `orientation ${orientation}`).toEqual(scene);
      expect(await shown(stored, orientation, true), `orientation ${orientation}, flipped`).toEqual(
        mirrored(scene),
      );
    }
  });

  test('at any size', async () => {
    await fc.assert(
      fc.asyncProperty(raster, orientations, fc.boolean(), async (stored, orientation, flip) => {
        const scene = sceneOf(stored, orientation);
        expect(await shown(stored, orientation, flip)).toEqual(flip ? mirrored(scene) : scene);
      }),
      { numRuns: 40 },
    );
  });

  test('turned and turned back, or flipped twice, is the picture as it was', async () => {
    await fc.assert(
      fc.asyncProperty(raster, orientations, async (stored, orientation) => {
        const turned = await shown(stored, orientation, false);
        expect(await shown(turned, undoing(orientation), false)).toEqual(stored);
        expect(await shown(await shown(stored, 1, true), 1, true)).toEqual(stored);
      }),
      { numRuns: 25 },
    );
    for (let orientation = 1; orientation <= 8; orientation++) {
      const pose = uprightPose(orientation);
      expect(flipped(flipped(pose))).toEqual(pose);
    }
  });

  test('as stored when the tag holds a number outside 1 to 8', () => {
    for (const orientation of [0, 9, -1, 65_535]) expect(uprightPose(orientation)).toEqual(uprightPose(1));
  });

  test('like a decoder that follows the tag exiftool wrote, at odd sizes', async (context) => {
    needsExiftool(context);
    const noise = Uint8Array.from({ length: 37 * 23 }, (_, at) => (at * 7919) % 251);
    const jpeg = await sharp(noise, { raw: { width: 37, height: 23, channels: 1 } })
      .toColourspace('b-w')
      .jpeg({ quality: 95 })
      .toBuffer();
    await withExiftool(async (exiftool, folder) => {
      for (let orientation = 1; orientation <= 8; orientation++) {
        const original = await withOrientation(exiftool, folder, jpeg, orientation);
        expect((await sharp(original).metadata()).orientation ?? 1).toBe(orientation);
        for (const flip of [false, true]) {
          const facts = factsOf({ format: 'JPEG', orientation });
          const rendered = await render({ original, stripped: jpeg, facts, radiograph: true, flip });
          if (rendered.kind !== 'kept') throw new Error(rendered.reason.code);
          const grey = (picture: Sharp) => picture.toColourspace('b-w').raw().toBuffer();
          const upright = await sharp(original).autoOrient().toColourspace('b-w').png().toBuffer();
          expect(await grey(sharp(rendered.value.display))).toEqual(await grey(sharp(upright).flop(flip)));
        }
      }
    });
  });
});
