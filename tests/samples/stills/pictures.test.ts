import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { Picture } from '../../../sample-images/drawing/stills/camera.js';
import { REGIONS, type Region } from '../../../sample-images/drawing/stills/ground.js';
import { drawStill } from '../../../sample-images/drawing/stills/scene.js';
import { type StillFile, VISITS } from '../../../sample-images/drawing/visits.js';
import { labOf } from './colour-lab.js';

const WIDTH = 360;
const stills = VISITS.flatMap((visit) => visit.files).filter((one): one is StillFile => one.kind === 'still');
const drawn = new Map<string, Picture>();
const draw = (one: StillFile): Picture => {
  const known = drawn.get(one.file) ?? drawStill(one.tooth, one.shot, WIDTH, (WIDTH * 3) / 4);
  drawn.set(one.file, known);
  return known;
};
const find = (file: string): StillFile => stills.find((one) => one.file === file)!;

/** Median L*, a*, b* of a region. */
const colourOf = (picture: Picture, region: Region): [number, number, number] | null => {
  const labs: [number, number, number][] = [];
  for (let k = 0; k < picture.regions.length; k++)
    if (REGIONS[picture.regions[k]!] === region) labs.push(labOf(picture.rgb, k * 3));
  if (labs.length < 12) return null;
  return [0, 1, 2].map((p) => labs.map((lab) => lab[p]!).sort((a, b) => a - b)[labs.length >> 1]!) as [
    number,
    number,
    number,
  ];
};

/** Connected patches of a region with more than a few pixels. */
const patches = (picture: Picture, region: Region): number => {
  const { regions, widthPx } = picture;
  const wanted = REGIONS.indexOf(region);
  const seen = new Uint8Array(regions.length);
  let count = 0;
  for (let start = 0; start < regions.length; start++) {
    if (regions[start] !== wanted || seen[start]) continue;
    const queue = [start];
    seen[start] = 1;
    for (let n = 0; n < queue.length; n++)
      for (const step of [1, -1, widthPx, -widthPx, widthPx + 1, widthPx - 1, -widthPx + 1, -widthPx - 1]) {
        const next = queue[n]! + step;
        if (regions[next] === wanted && !seen[next]) {
          seen[next] = 1;
          queue.push(next);
        }
      }
    if (queue.length > 8) count++;
  }
  return count;
};

const chambers = stills.filter(
  ({ shot }) => shot.content.show === 'chamber' || shot.content.show === 'filled',
);

describe('a still of the chamber floor', () => {
  it.each(chambers.map((one) => [one.file, one] as const))(
    '%s is darker on the floor than on the walls',
    (_, one) => {
      const picture = draw(one);
      const [wall, floor] = [colourOf(picture, 'wall')!, colourOf(picture, 'floor')!];
      expect(wall[0] - floor[0]).toBeGreaterThanOrEqual(8);
      expect(wall[1]).toBeLessThan(10);
    },
  );

  it.each(['IMG_0414.JPG', 'IMG_0466.JPG', 'IMG_0192.JPG'])(
    '%s has lines darker than the floor and orifices darkest',
    (file) => {
      const picture = draw(find(file));
      const [floor, groove] = [colourOf(picture, 'floor')!, colourOf(picture, 'groove')!];
      expect(floor[0] - groove[0]).toBeGreaterThanOrEqual(8);
      const orifice = colourOf(picture, 'orifice')!;
      for (const region of REGIONS) {
        if (['orifice', 'dam', 'clamp'].includes(region)) continue;
        const other = colourOf(picture, region);
        if (other !== null) expect(other[0]).toBeGreaterThan(orifice[0]);
      }
    },
  );

  it.each([
    ['IMG_0414.JPG', 3],
    ['IMG_0417.JPG', 4],
    ['IMG_0466.JPG', 4],
    ['IMG_0189.JPG', 2],
    ['IMG_0192.JPG', 2],
  ])('%s shows as many orifices as canals were found: %i', (file, count) => {
    expect(patches(draw(find(file)), 'orifice')).toBe(count);
  });
});

describe('gutta-percha', () => {
  it('stands in no still before the filling', () => {
    for (const one of stills) {
      const filled = one.shot.content.show === 'filled';
      expect(colourOf(draw(one), 'gutta-percha') !== null).toBe(filled);
    }
  });

  it.each([
    ['IMG_0469.JPG', 4],
    ['IMG_0195.JPG', 2],
  ])('%s has one pink disc for each filled canal: %i', (file, count) => {
    const picture = draw(find(file));
    expect(patches(picture, 'gutta-percha')).toBe(count);
    expect(colourOf(picture, 'gutta-percha')![1]).toBeGreaterThanOrEqual(18);
    expect(patches(picture, 'orifice')).toBe(0);
  });
});

describe('focus', () => {
  /** Mean difference between neighbours, a measure of detail. */
  const detail = (picture: Picture): number => {
    let sum = 0;
    for (let k = 0; k < picture.regions.length - 1; k++)
      sum += Math.abs(picture.rgb[3 * k]! - picture.rgb[3 * k + 3]!);
    return sum / picture.regions.length;
  };
  it('is lost in the blurred twin', () => {
    expect(detail(draw(find('IMG_0233.JPG')))).toBeLessThan(0.9 * detail(draw(find('IMG_0232.JPG'))));
  });
});

it('draws the same bytes every time', () => {
  const one = find('IMG_0414.JPG');
  const hash = (): string =>
    createHash('sha256')
      .update(drawStill(one.tooth, one.shot, 160, 120).rgb)
      .digest('hex');
  expect(hash()).toBe(hash());
});
