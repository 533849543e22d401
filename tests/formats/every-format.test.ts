import fc from 'fast-check';
import sharp from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import { FORMATS as ALL, formatFor } from '../../src/formats/index.js';
import { pixelsOf } from '../fixtures/drawn-pixels.js';
import { drawSamples } from './samples.js';
import { formatOf, strippedLater as stripped, strippedBytesLater as strippedBytes } from './stripped.js';

/** Every one but DICOM, whose copies are made with a key and checked by a suite of their own in dicom/. */
const FORMATS = ALL.filter(({ name }) => name !== 'DICOM');

/** Stored pixels: by sharp, or by the format's own decoder where sharp has none. */
async function storedPixels(bytes: Uint8Array) {
  const own = formatOf(bytes).decode;
  if (!own) return pixelsOf(bytes);
  const decoded = await own(bytes, { pixelLimit: 1e8 });
  if (decoded.kind !== 'kept') throw new Error(decoded.reason.code);
  return { pixels: Buffer.from(decoded.value.data as Uint8Array), depth: 'uchar', space: 'srgb' };
}

let samples: Awaited<ReturnType<typeof drawSamples>> = [];
beforeAll(async () => {
  samples = await drawSamples();
});

const smallest = () =>
  FORMATS.flatMap(({ name }) => {
    const ofFormat = samples.filter(({ format }) => format === name);
    return [...ofFormat].sort((a, b) => a.bytes.length - b.bytes.length).slice(0, 3);
  });

describe('every registered format', () => {
  test('has samples, and is told by its bytes alone', () => {
    expect(new Set(samples.map(({ format }) => format))).toEqual(new Set(FORMATS.map(({ name }) => name)));
    for (const { name, format, bytes } of samples)
      expect([name, formatFor(bytes)?.name]).toEqual([name, format]);
  });

  test('keeps every stored pixel at full depth', async () => {
    for (const { name, bytes } of samples) {
      const [before, after] = [await storedPixels(bytes), await pixelsOf(await strippedBytes(bytes))];
      expect([name, after.depth, after.space]).toEqual([name, before.depth, before.space]);
      expect([name, after.pixels.equals(before.pixels)]).toEqual([name, true]);
    }
  });

  test('reads size, depth and grey as sharp does', async () => {
    for (const { name, bytes } of samples) {
      const survey = formatOf(bytes).survey(bytes);
      // sharp reads what strip made where it cannot read the format itself.
      const readable = formatOf(bytes).decode ? await strippedBytes(bytes) : bytes;
      const { width, height, depth, channels } = await sharp(readable).metadata();
      const seen = survey.kind === 'kept' ? survey.value : null;
      expect([name, seen?.widthPx, seen?.heightPx]).toEqual([name, width, height]);
      expect([name, seen?.bitsPerChannel]).toEqual([name, depth === 'ushort' ? 16 : 8]);
      if (seen?.grey) expect([name, channels]).toEqual([name, 1]);
    }
  });

  test('leaves the input as it was, and stripping twice changes nothing', async () => {
    for (const { name, bytes } of samples) {
      const copy = Buffer.from(bytes);
      const once = await strippedBytes(bytes);
      expect([name, bytes.equals(copy)]).toEqual([name, true]);
      expect([name, (await strippedBytes(once)).equals(once)]).toEqual([name, true]);
      expect([name, formatOf(once).leftovers(once)]).toEqual([name, []]);
    }
  });

  test('keeps colours within one level when a P3 profile is rebuilt', async () => {
    for (const { name, bytes } of samples.filter((sample) => sample.name.includes('P3'))) {
      const [before, after] = await Promise.all(
        [bytes, await strippedBytes(bytes)].map((file) => sharp(file).toColourspace('srgb').raw().toBuffer()),
      );
      const ignored = await sharp(bytes, { ignoreIcc: true }).toColourspace('srgb').raw().toBuffer();
      const most = (a: Buffer, b: Buffer) =>
        a.reduce((worst, value, at) => Math.max(worst, Math.abs(value - b[at]!)), 0);
      expect([name, most(before!, after!) <= 1]).toEqual([name, true]);
      expect([name, most(before!, ignored) > 5]).toEqual([name, true]);
    }
  });

  test('holds a file cut at any byte, and never throws', async () => {
    for (const { name, bytes } of smallest()) {
      const whole = formatOf(bytes).strippedAs ? bytes : await strippedBytes(bytes);
      for (let size = 0; size < whole.length; size++) {
        const cut = whole.subarray(0, size);
        const format = formatFor(cut);
        if (!format || !('strip' in format)) continue;
        const result = await stripped(cut);
        // TIFF pads its last strip to even length; without that one byte the picture is still whole.
        const whichever = typeof result === 'string' || (size === whole.length - 1 && result.equals(whole));
        expect([name, size, whichever]).toEqual([name, size, true]);
        expect([name, size, format.survey(cut).kind !== 'failed']).toEqual([name, size, true]);
        format.leftovers(cut);
      }
    }
  });

  test('takes any damage without throwing, and what it still keeps has no leftovers and strips to itself', async () => {
    const change = fc.record({ at: fc.nat(), value: fc.integer({ min: 0, max: 255 }), cut: fc.nat(9) });
    for (const { bytes } of smallest())
      await fc.assert(
        fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 6 }), async (changes) => {
          let mutant = Buffer.from(bytes);
          for (const { at, value, cut } of changes) {
            // Headers are small: half of all changes go there.
            const place = at % (value % 2 === 0 ? mutant.length : Math.min(mutant.length, 600));
            mutant[place] = value;
            if (cut === 0) mutant = Buffer.concat([mutant.subarray(0, place), mutant.subarray(place + 3)]);
          }
          const format = FORMATS.find((entry) => entry.name === formatOf(bytes).name)!;
          format.survey(mutant);
          format.leftovers(mutant);
          const outcome = await format.strip(mutant);
          if (outcome.kind !== 'kept') return outcome.kind === 'held';
          const output = Buffer.concat(outcome.value.parts.map((part) => part.bytes));
          const again = await stripped(output);
          return format.leftovers(output).length === 0 && typeof again !== 'string' && again.equals(output);
        }),
        { numRuns: 150, endOnFailure: true },
      );
    expect(smallest().length).toBeGreaterThanOrEqual(FORMATS.length);
  });
});
