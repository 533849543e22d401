import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { PictureFacts } from '../../../src/core/picture-facts.js';
import { identify } from '../../../src/stages/identify/index.js';
import { type Rendered, render, showOriginal } from '../../../src/stages/render/index.js';
import { strip } from '../../../src/stages/strip/index.js';
import {
  changed,
  pixelElements,
  radiograph,
  rampPixels,
  signedPixels,
  slice,
  still,
} from '../../formats/dicom/copy/drawn-objects.js';
import { inFolder, run, withPeers } from '../../formats/dicom/copy/peer-tools.js';
import { at, fileOf, type Planted } from '../../formats/dicom/copy/source-object.js';

const KEY = Buffer.from('a key of thirty-two bytes, tests');

async function factsOf(file: Buffer): Promise<PictureFacts> {
  const outcome = await identify(file, 'a.dcm');
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome.reason));
  return outcome.value;
}

async function outcomeOf(file: Buffer, frame?: number) {
  const facts = await factsOf(file);
  const stripped = await strip(file, facts, { uidKey: KEY, ...(frame === undefined ? {} : { frame }) });
  if (stripped.kind !== 'kept') return stripped;
  return render({
    original: file,
    stripped: stripped.value.bytes,
    facts,
    radiograph: facts.grey,
    flip: false,
    frame,
  });
}

async function rendered(file: Buffer, frame?: number): Promise<Rendered & { samples: number[] }> {
  const outcome = await outcomeOf(file, frame);
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome.reason));
  const samples = await sharp(outcome.value.display).toColourspace('b-w').raw().toBuffer();
  return { ...outcome.value, samples: Array.from(samples) };
}

const withPixels = (elements: Planted[], ...more: Planted[]): Buffer => fileOf(changed(elements, ...more));
const without = (elements: Planted[], ...tags: number[]): Planted[] =>
  changed(elements, ...tags.map((tag) => ({ tag, value: null }) as const));
const WINDOW = [0x00281050, 0x00281051];

describe('a DICOM radiograph is shown', () => {
  it('by its first stored window, and says so', async () => {
    const { samples, processing, displayFormat } = await rendered(fileOf(radiograph()));
    // level 2048, width 4096 over a ramp of 12 bits is the ramp itself (PS3.3, C.11.2.1.2)
    const ramp = Array.from(rampPixels(12).data, (value) =>
      Math.round(((value - 2047.5) / 4095 + 0.5) * 255),
    );
    expect(samples).toEqual(ramp);
    expect(displayFormat).toBe('png');
    expect(processing).toEqual(['greys shown by the window stored in the file (level 2048, width 4096)']);
  });

  it('after slope and intercept, signed values too', async () => {
    const { samples } = await rendered(fileOf(slice()));
    const values = Array.from(signedPixels(12).data, (value) => value - 1000);
    // level 400, width 2000, the first of two windows
    const wanted = values.map((x) =>
      Math.round(Math.min(255, Math.max(0, ((x - 399.5) / 1999 + 0.5) * 255))),
    );
    expect(samples).toEqual(wanted);
  });

  it('over its full range without a window, and unchanged when it has 8 bits', async () => {
    const half = { ...rampPixels(12), data: rampPixels(12).data.map((value) => 1000 + (value >> 2)) };
    const film = [
      ...without(radiograph(), ...WINDOW).filter(({ tag }) => tag !== 0x7fe00010),
      pixelElements(half, 12, 'MONOCHROME2').at(-1)!,
    ];
    const { samples, processing } = await rendered(fileOf(film));
    expect([Math.min(...samples), Math.max(...samples)]).toEqual([0, 255]);
    expect(processing).toEqual([
      'grey range set from the darkest to the brightest value of the picture, linear',
    ]);
    const eight = rampPixels(8);
    const plain = without(radiograph(undefined, 'IO', eight, 8), ...WINDOW);
    expect(await rendered(fileOf(plain))).toMatchObject({ samples: Array.from(eight.data), processing: [] });
  });

  it('inverted when low values are white, with a word on a file that contradicts itself', async () => {
    const straight = await rendered(fileOf(radiograph()));
    const negative = changed(
      radiograph(),
      at(0x00280004, 'CS', 'MONOCHROME1'),
      at(0x20500020, 'CS', 'INVERSE'),
    );
    const { samples, processing, notes } = await rendered(fileOf(negative));
    expect(samples.every((sample, place) => Math.abs(sample - (255 - straight.samples[place]!)) <= 1)).toBe(
      true,
    );
    expect(processing.at(-1)).toBe('greys inverted, as the file says');
    expect(notes).toEqual([]);
    const doubtful = changed(negative, at(0x20500020, 'CS', 'IDENTITY'));
    expect((await rendered(fileOf(doubtful))).notes).toEqual([expect.stringContaining('negative')]);
  });

  it('with what is no part of the picture black, and out of the range', async () => {
    const padded = Array.from(rampPixels(12).data, (value, place) =>
      place < 40 ? 4095 : 1000 + (value >> 2),
    );
    const film = changed(
      without(radiograph(), ...WINDOW),
      at(0x7fe00010, 'OW', padded),
      at(0x00280120, 'US', [4095]),
    );
    const { samples } = await rendered(fileOf(film));
    expect(new Set(samples.slice(0, 40))).toEqual(new Set([0]));
    expect(Math.max(...samples)).toBe(255);
    const all = changed(
      film,
      at(
        0x7fe00010,
        'OW',
        padded.map(() => 4095),
      ),
    );
    expect(new Set((await rendered(fileOf(all))).samples)).toEqual(new Set([0]));
  });

  it('the same to a finder as in the display picture', async () => {
    const file = fileOf(radiograph());
    const facts = await factsOf(file);
    const shown = await showOriginal({ original: file, facts, radiograph: true, flip: false });
    expect(shown.kind === 'kept' && Array.from(shown.value.data)).toEqual((await rendered(file)).samples);
  });

  withPeers(['dcm2pnm'], 'as dcmtk shows it, within one level', async () => {
    const negative = changed(
      radiograph(),
      at(0x00280004, 'CS', 'MONOCHROME1'),
      at(0x20500020, 'CS', 'INVERSE'),
    );
    for (const file of [fileOf(radiograph()), fileOf(slice()), fileOf(negative)]) {
      const theirs = inFolder({ 'in.dcm': file }, (folder) => {
        // +Wi 1: the first stored window; +op: PGM of 8 bits, binary
        expect(
          run('dcm2pnm', ['+Wi', '1', '+op', join(folder, 'in.dcm'), join(folder, 'out.pgm')]).status,
        ).toBe(0);
        return readFileSync(join(folder, 'out.pgm'));
      });
      const { samples } = await rendered(file);
      const pixels = theirs.subarray(theirs.length - samples.length);
      const worst = samples
        .map((sample, place) => Math.abs(sample - pixels[place]!))
        .reduce((a, b) => Math.max(a, b));
      expect(worst).toBeLessThanOrEqual(1);
    }
  });
});

describe('other DICOM objects', () => {
  it('in colour become a still, and a palette becomes its colours', async () => {
    expect(await rendered(fileOf(still()))).toMatchObject({ displayFormat: 'jpg', processing: [] });
    const indexes = rampPixels(8);
    const table = (of: (entry: number) => number) =>
      Array.from({ length: 256 }, (_, entry) => of(entry) * 257);
    const palette = [
      ...without(radiograph(undefined, 'IO', indexes, 8), ...WINDOW, 0x00280004),
      at(0x00280004, 'CS', 'PALETTE COLOR'),
      ...[0x00281101, 0x00281102, 0x00281103].map((tag) => at(tag, 'US', [256, 0, 16])),
      at(
        0x00281201,
        'OW',
        table((entry) => entry),
      ),
      at(
        0x00281202,
        'OW',
        table((entry) => 255 - entry),
      ),
      at(
        0x00281203,
        'OW',
        table(() => 40),
      ),
    ];
    const file = fileOf(palette);
    const shown = await showOriginal({
      original: file,
      facts: await factsOf(file),
      radiograph: false,
      flip: false,
    });
    const wanted = Array.from(indexes.data).flatMap((entry) => [entry, 255 - entry, 40]);
    expect(shown.kind === 'kept' && Array.from(shown.value.data)).toEqual(wanted);
    expect((await outcomeOf(file)).kind).toBe('kept');
  });

  it('of several frames show the one that was named, by that frame alone', async () => {
    const eight = rampPixels(8);
    const both = Uint8Array.from({ length: 2 * eight.data.length }, (_, place) =>
      place < eight.data.length ? eight.data[place]! : 7,
    );
    const file = withPixels(
      without(radiograph(undefined, 'IO', eight, 8), ...WINDOW),
      at(0x00280008, 'IS', '2'),
      at(0x7fe00010, 'OW', both),
    );
    expect((await factsOf(file)).frames).toBe(2);
    expect((await rendered(file, 1)).samples).toEqual(Array.from(eight.data));
    expect(new Set((await rendered(file, 2)).samples)).toEqual(new Set([7]));
    expect(await outcomeOf(file)).toMatchObject({
      kind: 'held',
      reason: { code: 'several-frames', frames: 2 },
    });
  });

  it('are held when the copy would look different or has other pixels', async () => {
    const file = fileOf(radiograph());
    const facts = await factsOf(file);
    const stripped = await strip(file, facts, { uidKey: KEY });
    const bytes = stripped.kind === 'kept' ? Buffer.from(stripped.value.bytes) : Buffer.alloc(0);
    const level = Buffer.from(bytes);
    level.write('2047', level.indexOf('2048'), 'latin1');
    const pixel = Buffer.from(bytes);
    pixel[pixel.length - 2]! ^= 1;
    for (const forged of [level, pixel])
      expect(
        await render({ original: file, stripped: forged, facts, radiograph: true, flip: false }),
      ).toEqual({
        kind: 'held',
        reason: { code: 'pixels-changed' },
      });
  });
});
