import { join } from 'node:path';
import dicomParser, { type DataSet } from 'dicom-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrapAsFile } from '../../../../src/formats/dicom/copy/copy-file.js';
import { writeDecimal } from '../../../../src/formats/dicom/copy/kept-values.js';
import {
  type CopyElement,
  sequence,
  text,
  words,
  writeElements,
} from '../../../../src/formats/dicom/copy/write-elements.js';
import { dicomLeftovers } from '../../../../src/formats/dicom/leftovers/index.js';
import type { StoredPixels } from '../../../../src/formats/format.js';
import { copyOf, holds, opened } from './copies.js';
import { CLASS, changed, codeOf, identity, pixelElements, radiograph } from './drawn-objects.js';
import { inFolder, run, runEach, withPeers } from './peer-tools.js';
import { at, BIG, EXPLICIT, fileOf, IMPLICIT, type Planted } from './source-object.js';

const CAPTURE = CLASS.capture;
const plainText = fc.stringMatching(/^[A-Za-z0-9 .]{0,20}$/).map((value) => value.trim());
const publicTag = fc
  .tuple(fc.integer({ min: 4, max: 0x7fd }), fc.integer({ min: 1, max: 0xffff }))
  .map(([group, element]) => ((2 * group) << 16) | element);

const leaf: fc.Arbitrary<CopyElement> = fc.oneof(
  fc
    .tuple(
      publicTag,
      fc.constantFrom('LO', 'SH', 'CS', 'DS', 'UI'),
      fc.array(plainText, { minLength: 1, maxLength: 3 }),
    )
    .map(([tag, vr, values]) => text(tag, vr, ...values)),
  fc
    .tuple(
      publicTag,
      fc.constantFrom('US' as const, 'OW' as const),
      fc.array(fc.integer({ min: 0, max: 0xffff }), { minLength: 1, maxLength: 9 }),
    )
    .map(([tag, vr, values]) => words(tag, vr, values)),
  fc
    .tuple(publicTag, fc.uint8Array({ minLength: 1, maxLength: 9 }))
    .map(([tag, value]): CopyElement => ({ tag, vr: 'OB', value })),
);
const unlike = (element: fc.Arbitrary<CopyElement>, maxLength: number) =>
  fc.uniqueArray(element, { selector: ({ tag }) => tag, minLength: 1, maxLength });
const nested: fc.Arbitrary<CopyElement> = fc.oneof(
  { weight: 4, arbitrary: leaf },
  {
    weight: 1,
    arbitrary: fc
      .tuple(publicTag, fc.array(unlike(leaf, 4), { maxLength: 3 }))
      .map(([tag, items]) => sequence(tag, ...items)),
  },
);

const key = (tag: number): string => `x${tag.toString(16).padStart(8, '0')}`;

/** Compares what was written with what the library's parser reads. */
function expectSame(elements: readonly CopyElement[], dataSet: DataSet): void {
  expect(Object.keys(dataSet.elements).filter((name) => !name.startsWith('x0002'))).toHaveLength(
    elements.length,
  );
  for (const element of elements) {
    const read = dataSet.elements[key(element.tag)];
    expect(read?.vr).toBe(element.vr);
    if (!read) continue;
    if ('items' in element) {
      expect(read.items?.length ?? 0).toBe(element.items.length);
      for (const [index, item] of element.items.entries())
        expectSame(item, read.items?.[index]?.dataSet as DataSet);
    } else {
      const bytes = Buffer.from(dataSet.byteArray.slice(read.dataOffset, read.dataOffset + read.length));
      expect(read.length % 2).toBe(0);
      expect(bytes.subarray(0, element.value.length).equals(Buffer.from(element.value))).toBe(true);
      expect(bytes.length - element.value.length).toBeLessThanOrEqual(1);
    }
  }
}

describe('written elements', () => {
  it('are read back by another parser, whatever they are', () => {
    fc.assert(
      fc.property(unlike(nested, 12), (elements) => {
        const file = wrapAsFile(elements, CAPTURE, '2.25.1');
        expectSame(elements, dicomParser.parseDicom(file));
      }),
    );
  });

  it('stand in the order of their tags', () => {
    fc.assert(
      fc.property(unlike(leaf, 12), (elements) => {
        expect(writeElements(elements).equals(writeElements(elements.toReversed()))).toBe(true);
      }),
    );
  });

  it('are numbers of at most 16 characters, as near as those allow', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const written = writeDecimal(String(value));
        expect(written.length).toBeLessThanOrEqual(16);
        expect(written).toMatch(/^-?\d+(\.\d+)?(e[+-]?\d+)?$/);
        expect(Math.abs(Number(written) - value)).toBeLessThanOrEqual(
          Math.max(1e-300, Math.abs(value) * 1e-8),
        );
      }),
    );
  });
});

/** Objects of any size, depth and way of writing, with words of a person in them. */
interface Drawn {
  file: Buffer;
  pixels: StoredPixels;
}

const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    widthPx: fc.integer({ min: 1, max: 33 }),
    heightPx: fc.integer({ min: 1, max: 33 }),
    bits: fc.integer({ min: 1, max: 16 }),
    colour: fc.boolean(),
    signed: fc.boolean(),
    dark: fc.boolean(),
    seed: fc.integer({ min: 1, max: 0x7fffffff }),
    writing: fc.constantFrom(EXPLICIT, IMPLICIT, BIG),
    open: fc.boolean(),
    strays: fc.uniqueArray(publicTag, { maxLength: 6 }),
    centre: fc.integer({ min: -2000, max: 5000 }),
    tooth: fc.constantFrom('865995000', 'T-54230', '4711'),
  })
  .map(
    ({
      widthPx,
      heightPx,
      bits,
      colour,
      signed,
      dark,
      seed,
      writing,
      open,
      strays,
      centre,
      tooth,
    }): Drawn => {
      const channels = colour ? 3 : 1;
      const stored = colour ? 8 : bits;
      const negative = signed && !colour;
      const raw = noise(widthPx * heightPx * channels, 2 ** stored, seed);
      const data = negative
        ? Int16Array.from(raw, (value) => value - 2 ** (stored - 1))
        : stored > 8
          ? Uint16Array.from(raw)
          : Uint8Array.from(raw);
      const pixels: StoredPixels = {
        data,
        widthPx,
        heightPx,
        channels,
        bitsPerChannel: data.BYTES_PER_ELEMENT === 1 ? 8 : 16,
      };
      const known = new Set(radiograph().map(({ tag }) => tag));
      const person = strays
        .filter(
          (tag) =>
            !known.has(tag) && tag !== 0x00280008 && !(tag >>> 8 === 0x002811 || tag >>> 8 === 0x002812),
        )
        .map(
          (tag, index): Planted =>
            index % 2 === 0 ? at(tag, 'LO', 'Rowan Testcase') : at(tag, 'SQ', [identity()], open),
        );
      const elements = changed(
        radiograph(CLASS.intraOral, 'IO', pixels, stored),
        ...(colour
          ? pixelElements(pixels, 8, 'RGB')
          : [at(0x00280004, 'CS', dark ? 'MONOCHROME1' : 'MONOCHROME2')]),
        at(0x00281050, 'DS', String(centre)),
        codeOf(0x00082228, tooth, tooth.startsWith('T') ? 'SRT' : 'SCT', 'Rowan'),
        ...person,
      );
      return { file: fileOf(elements, writing), pixels };
    },
  );

/** Numbers below `below` from a seed (xorshift, Marsaglia 2003). */
function noise(count: number, below: number, seed: number): number[] {
  let state = seed;
  return Array.from({ length: count }, () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  });
}

describe('copies of any object', () => {
  it('are read back by another parser with the same samples, and name nobody', () => {
    fc.assert(
      fc.property(drawn, ({ file, pixels }) => {
        const copy = copyOf(file, pixels);
        const read = dicomParser.parseDicom(copy);
        const place = read.elements['x7fe00010'];
        const bytes = Buffer.from(
          copy.subarray(place?.dataOffset, (place?.dataOffset ?? 0) + (place?.length ?? 0)),
        );
        const wide = pixels.bitsPerChannel === 16;
        const samples = Array.from(pixels.data, (_, index) =>
          wide
            ? pixels.data instanceof Int16Array
              ? bytes.readInt16LE(2 * index)
              : bytes.readUInt16LE(2 * index)
            : bytes[index],
        );
        expect(samples).toEqual(Array.from(pixels.data));
        for (const name of ['Rowan', 'Testcase', 'Ottoline', 'A-20417', '20260211'])
          expect(holds(copy, name)).toBe(false);
        expect(dicomLeftovers(copy)).toEqual([]);
        expect(opened(copy).elements.map(({ tag }) => tag)).toEqual(
          opened(copy)
            .elements.map(({ tag }) => tag)
            .toSorted((a, b) => a - b),
        );
      }),
    );
  });

  withPeers(['pydicom'], 'give pydicom the same samples', () => {
    const objects = fc.sample(drawn, { numRuns: 40, seed: 20_260_211 });
    const program = `
import sys, json, warnings, pydicom
print(json.dumps([pydicom.dcmread(p).pixel_array.ravel().tolist() for p in sys.argv[1:]]))`;
    const files = Object.fromEntries(
      objects.map(({ file, pixels }, index) => [`${index}.dcm`, copyOf(file, pixels)]),
    );
    inFolder(files, (folder) => {
      const paths = objects.map((_, index) => join(folder, `${index}.dcm`));
      const { text, status } = run('/usr/bin/python3', ['-W', 'ignore', '-c', program, ...paths]);
      expect(status).toBe(0);
      expect(JSON.parse(text)).toEqual(objects.map(({ pixels }) => Array.from(pixels.data)));
    });
  });

  withPeers(['dciodvfy'], 'are lawful', () => {
    const objects = fc.sample(drawn, { numRuns: 20, seed: 46 });
    const files = Object.fromEntries(
      objects.map(({ file, pixels }, index) => [`${index}.dcm`, copyOf(file, pixels)]),
    );
    inFolder(files, (folder) => {
      const told = runEach('dciodvfy "$name"', folder, Object.keys(files));
      expect(told).toHaveLength(objects.length);
      const errors = told.flatMap((text) => text.split('\n').filter((line) => /^(Error|Abort)/.test(line)));
      expect([...new Set(errors)]).toEqual([]);
    });
  });
});
