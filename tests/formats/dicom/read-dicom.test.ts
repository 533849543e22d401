import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DicomFile, readDicom } from '../../../src/formats/dicom/read-dicom.js';
import { formatFor } from '../../../src/formats/index.js';
import { identity, radiograph } from './copy/drawn-objects.js';
import { at, BIG, EXPLICIT, encode, fileOf, IMPLICIT, type Planted } from './copy/source-object.js';
import { metaOf, withoutPreamble } from './given/coded-objects.js';

const ELEMENTS: Planted[] = [
  ...radiograph(),
  at(0x00081140, 'SQ', [[at(0x00081150, 'UI', '1.2.3')], [at(0x00081155, 'UI', '1.2.4')]], true),
  at(0x00101002, 'SQ', [[at(0x00100020, 'LO', 'Q-1'), at(0x00100024, 'SQ', [])]]),
];

const kept = (bytes: Uint8Array): DicomFile => {
  const outcome = readDicom(bytes);
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome));
  return outcome.value;
};
const reasonOf = (bytes: Uint8Array) => {
  const outcome = readDicom(bytes);
  return outcome.kind === 'kept' ? 'kept' : outcome.reason;
};

const name = (tag: number): string => `x${tag.toString(16).padStart(8, '0')}`;

describe('an image object', () => {
  test('reads the same in every way of writing, at every depth', () => {
    const files = [
      fileOf(ELEMENTS, EXPLICIT),
      fileOf(ELEMENTS, IMPLICIT),
      fileOf(ELEMENTS, BIG),
      Buffer.concat([metaOf('1.2.840.10008.1.2.1.99'), deflateRawSync(encode(ELEMENTS, EXPLICIT))]),
    ].map(kept);
    for (const { dataSet, elements } of files) {
      expect(elements.map(({ tag }) => tag)).toEqual(files[0]!.elements.map(({ tag }) => tag));
      expect(dataSet.string('x00100010')).toBe(files[0]!.dataSet.string('x00100010'));
      expect(dataSet.elements['x00081140']?.items?.[1]?.dataSet?.string('x00081155')).toBe('1.2.4');
      for (const { tag, at: place } of elements) expect(dataSet.elements[name(tag)]?.dataOffset).toBe(place);
    }
    expect(files.map(({ syntax }) => syntax.bigEndian)).toEqual([false, false, true, false]);
  });

  test('is told and read without a preamble, with a file meta group or none, and never by its name', () => {
    const bare = [
      withoutPreamble(fileOf(ELEMENTS, EXPLICIT)),
      encode(ELEMENTS, EXPLICIT),
      encode(ELEMENTS, IMPLICIT),
    ];
    for (const bytes of bare) {
      expect(formatFor(bytes)?.name).toBe('DICOM');
      expect(formatFor(bytes.subarray(0, 4096))?.name).toBe('DICOM');
      expect(kept(bytes).elements).toHaveLength(ELEMENTS.length);
    }
    expect(kept(bare[0]!).meta).not.toBeNull();
    expect(kept(bare[2]!).transferSyntax).toBe('1.2.840.10008.1.2');
  });

  test('is told by its mark even when its preamble is the head of a TIFF', () => {
    const file = fileOf(ELEMENTS, EXPLICIT, { preamble: 'II*\0\x08\0\0\0' });
    expect(formatFor(file)?.name).toBe('DICOM');
  });

  test('takes picture data that begins like an item for what it is', () => {
    const pixels = new Uint8Array(24 * 16 * 2);
    pixels.set([0xfe, 0xff, 0x00, 0xe0, 8, 0, 0, 0]);
    const elements = [...radiograph().filter(({ tag }) => tag !== 0x7fe00010), at(0x7fe00010, 'OW', pixels)];
    expect(kept(fileOf(elements, IMPLICIT)).elements.at(-1)?.length).toBe(pixels.length);
  });
});

describe('a file that cannot be read for certain is held', () => {
  const unusual = (what: RegExp) => ({ code: 'unusual', format: 'DICOM', what: expect.stringMatching(what) });

  test('without a transfer syntax, with an unknown one, without a picture', () => {
    expect(reasonOf(Buffer.concat([metaOf(null), encode(ELEMENTS, EXPLICIT)]))).toEqual(
      unusual(/no transfer syntax/),
    );
    expect(reasonOf(Buffer.concat([metaOf('1.2.840.10008.1.2.4.100'), encode(ELEMENTS, EXPLICIT)]))).toEqual(
      unusual(/not read here/),
    );
    expect(reasonOf(fileOf(identity()))).toEqual(unusual(/no picture/));
  });

  test('as the index of a disc, with and without preamble', () => {
    const records = at(0x00041220, 'SQ', [[at(0x00100010, 'PN', 'Testcase^Rowan')]]);
    const meta = metaOf('1.2.840.10008.1.2.1', '1.2.840.10008.1.3.10');
    const index = Buffer.concat([meta, encode([records], EXPLICIT)]);
    expect(formatFor(index)?.name).toBe('DICOMDIR');
    expect(reasonOf(index)).toEqual({ code: 'disc-index' });
    expect(reasonOf(withoutPreamble(index))).toEqual({ code: 'disc-index' });
  });

  test('when an element stands twice, when it nests without end, when it has too many elements', () => {
    const twice = Buffer.concat([encode(identity(), EXPLICIT), encode(ELEMENTS, EXPLICIT)]);
    expect(reasonOf(Buffer.concat([metaOf('1.2.840.10008.1.2.1'), twice]))).toEqual(unusual(/twice/));
    let deep: Planted = at(0x00400555, 'SQ', []);
    for (let depth = 0; depth < 200; depth++) deep = at(0x00400555, 'SQ', [[deep]], true);
    expect(reasonOf(fileOf([...radiograph(), deep]))).toEqual(unusual(/too deep/));
    // items of one empty element, 16 bytes each
    const item = Buffer.from([0xfe, 0xff, 0, 0xe0, 8, 0, 0, 0, 8, 0, 1, 0, 0x55, 0x53, 0, 0]);
    const many = at(0x00400555, 'SQ', Buffer.alloc(16 * 200_001, item));
    expect(reasonOf(fileOf([...radiograph(), many]))).toEqual(unusual(/too many/));
  });

  test('when it unpacks to more than any picture', () => {
    const bomb = deflateRawSync(Buffer.alloc(140_000_000), { level: 1 });
    expect(bomb.length).toBeLessThan(1_000_000);
    expect(reasonOf(Buffer.concat([metaOf('1.2.840.10008.1.2.1.99'), bomb]))).toEqual(unusual(/more data/));
  });

  test('when it is cut off at any byte', () => {
    for (const writing of [EXPLICIT, IMPLICIT, BIG]) {
      const whole = fileOf(ELEMENTS, writing);
      // the picture data comes last, so every cut after the meta group takes a part of it
      for (let size = 133; size < whole.length; size++)
        expect(reasonOf(whole.subarray(0, size))).not.toBe('kept');
    }
  });

  test('or kept, but never throws, whatever bytes and lengths are changed', () => {
    const files = [fileOf(ELEMENTS, EXPLICIT), fileOf(ELEMENTS, IMPLICIT), fileOf(ELEMENTS, BIG)];
    const change = fc.record({ place: fc.nat(), value: fc.constantFrom(0, 1, 8, 16, 127, 128, 254, 255) });
    fc.assert(
      fc.property(
        fc.constantFrom(...files),
        fc.array(change, { minLength: 1, maxLength: 4 }),
        (file, changes) => {
          const mutant = Buffer.from(file);
          for (const { place, value } of changes) mutant[132 + (place % (mutant.length - 132))] = value;
          return ['kept', 'held'].includes(readDicom(mutant).kind);
        },
      ),
      { numRuns: 1500 },
    );
  });
});
