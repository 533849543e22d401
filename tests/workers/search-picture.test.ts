import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import type { FoundBox } from '../../src/finders/finder.js';
import { openWorkers, type Searched } from '../../src/workers/index.js';
import { ground, print } from '../finders/text/drawn-text.js';

const NAME = { text: 'Rowan Testcase', capitalPx: 16, at: [0, 0], colour: [255, 255, 255] } as const;

/** Its middle. */
const middle = ([x, y, width, height]: FoundBox): [number, number] => [x + width / 2, y + height / 2];

test('a name burned into a mirror view is read as it was taken and placed where the flipped picture shows it', async () => {
  const picture = ground(480, 320, 60, 3);
  const [left, top] = middle(await print(picture, NAME));
  const folder = await mkdtemp(join(tmpdir(), 'search-'));
  const workers = openWorkers({ size: 1 });
  try {
    const path = join(folder, 'mirror.png');
    await sharp(picture.data, { raw: { width: 480, height: 320, channels: 3 } })
      .png()
      .toFile(path);
    const facts = await workers.identify({ path, name: 'mirror.png' });
    if (facts.kind !== 'kept') throw new Error(facts.reason.code);
    const search = async (flip: boolean): Promise<Searched> => {
      const found = await workers.search({ path, facts: facts.value, radiograph: false, flip });
      if (found.kind !== 'kept') throw new Error(found.reason.code);
      return found.value;
    };
    for (const [flip, x] of [
      [false, left],
      [true, 480 - left],
    ] as const) {
      const { texts } = await search(flip);
      expect(texts.map(({ text }) => text.replaceAll(' ', ''))).toEqual(['RowanTestcase']);
      const [foundX, foundY] = middle(texts[0]!.box);
      expect(Math.abs(foundX - x)).toBeLessThan(16);
      expect(Math.abs(foundY - top)).toBeLessThan(16);
    }
  } finally {
    await workers.close();
    await rm(folder, { recursive: true });
  }
});
