import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PictureFacts } from '../../../src/core/picture-facts.js';
import { formatOf, identify } from '../../../src/stages/identify/index.js';
import { drawColour, drawGrey16 } from '../../fixtures/drawn-pixels.js';
import { exifBlock } from '../../fixtures/exif-block.js';
import { afterStart, segment } from '../../fixtures/jpeg-pieces.js';
import { beforeChunk, iTXt, pngChunk, zTXt } from '../../fixtures/png-pieces.js';
import { greyFields, makeTiff } from '../../fixtures/tiff-pieces.js';
import { riffChunk, withChunks } from '../../fixtures/webp-pieces.js';

const jpeg = await drawColour().jpeg().toBuffer();
const png = await drawColour().png().toBuffer();
const webp = await drawColour().webp().toBuffer();

async function factsOf(bytes: Uint8Array, name = 'a.jpg'): Promise<PictureFacts> {
  const outcome = await identify(bytes, name);
  if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
  return outcome.value;
}

const exifSegment = (block: Buffer) =>
  segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), block]));
const xmpSegment = (packet: string) => segment(0xe1, `http://ns.adobe.com/xap/1.0/\0${packet}`);
const kindsOf = (facts: PictureFacts, kind: string) =>
  facts.identifying.filter((entry) => entry.kind === kind).map(({ value }) => value);

describe('formatOf tells a format by its bytes', () => {
  const box = (brands: string) => Buffer.from(`\0\0\0\x18ftyp${brands}`, 'latin1');
  /** File meta with one element, (0002,0002), explicit VR little endian (DICOM PS3.10, 7.1). */
  const dicom = (uid: string) =>
    Buffer.concat([
      Buffer.alloc(128),
      Buffer.from(`DICM\x02\0\x02\0UI${String.fromCharCode(uid.length)}\0${uid}`, 'latin1'),
    ]);
  test.each([
    ['JPEG', jpeg],
    ['PNG', png],
    ['WebP', webp],
    ['TIFF', makeTiff([greyFields(4, 4)], Buffer.alloc(16))],
    ['HEIC', box('heic\0\0\0\0mif1heic')],
    ['HEIC', box('avif\0\0\0\0mif1miaf')],
    [null, box('isom\0\0\0\0isommp41')],
    ['DICOM', dicom('1.2.840.10008.5.1.4.1.1.1.3')],
    ['DICOMDIR', dicom('1.2.840.10008.1.3.10')],
    [null, Buffer.from('%PDF-1.7')],
    [null, Buffer.alloc(0)],
  ])('%s', (name, bytes) => {
    expect(formatOf(bytes)).toBe(name);
  });

  test('and identify holds what cannot be taken in, with the reason', async () => {
    const code = async (bytes: Buffer) => {
      const outcome = await identify(bytes, 'a.jpg');
      return outcome.kind === 'held' ? outcome.reason : outcome.kind;
    };
    expect(await code(dicom('1.2.840.10008.1.3.10'))).toEqual({ code: 'disc-index' });
    expect(await code(dicom('1.2.3'))).toMatchObject({ format: 'DICOM' });
    expect(await code(box('heic\0\0\0\0mif1heic'))).toMatchObject({ code: 'damaged', format: 'HEIC' });
    expect(await code(Buffer.from('hello'))).toEqual({ code: 'unknown-format' });
    expect(await code(Buffer.alloc(0))).toEqual({ code: 'empty-file' });
    expect(await code(jpeg.subarray(0, 300))).toMatchObject({ code: 'damaged', format: 'JPEG' });
  });
});

describe('identify', () => {
  test('notes a wrong extension without repeating the name', async () => {
    expect((await factsOf(png, 'Rowan Testcase.JPG')).notes).toEqual([
      'The extension says JPEG, the bytes say PNG.',
    ]);
    expect((await factsOf(png, 'x.PNG')).notes).toEqual([]);
    const odd = (await factsOf(png, 'scan.Testcase')).notes;
    expect(odd.length).toBe(1);
    expect(odd.join()).not.toContain('Testcase');
  });

  test('reads depth and grey', async () => {
    expect(await factsOf(await drawGrey16().png().toBuffer())).toMatchObject({
      bitsPerChannel: 16,
      grey: true,
    });
    expect(await factsOf(jpeg)).toMatchObject({ widthPx: 75, heightPx: 53, bitsPerChannel: 8, grey: false });
  });

  test.each([1, 2, 3, 4, 5, 6, 7, 8])(
    'reads orientation %i from every carrier of EXIF',
    async (orientation) => {
      const block = exifBlock([{ tag: 274, type: 3, value: orientation }]);
      const files = [
        afterStart(jpeg, exifSegment(block)),
        beforeChunk(png, 'IDAT', pngChunk('eXIf', block)),
        withChunks(webp, riffChunk('EXIF', block)),
        makeTiff([greyFields(4, 4, [274, 3, [orientation]])], Buffer.alloc(16)),
      ];
      for (const file of files) expect((await factsOf(file)).orientation).toBe(orientation);
    },
  );

  test('keeps the time as the camera wrote it, in any time zone', async () => {
    const block = exifBlock(
      [{ tag: 306, type: 2, value: '2026:03:01 10:00:00' }],
      [
        { tag: 0x9003, type: 2, value: '2026:02:11 09:41:03' },
        { tag: 0x9291, type: 2, value: '25' },
        { tag: 0x9011, type: 2, value: '+05:00' },
      ],
    );
    const zone = process.env['TZ'];
    try {
      for (const other of ['UTC', 'Asia/Tokyo', 'America/New_York']) {
        process.env['TZ'] = other;
        expect((await factsOf(afterStart(jpeg, exifSegment(block)))).takenAt).toBe('2026-02-11T09:41:03.25');
      }
    } finally {
      process.env['TZ'] = zone;
    }
    const only = exifBlock([{ tag: 306, type: 2, value: '2026:03:01 10:00:00' }]);
    expect((await factsOf(afterStart(jpeg, exifSegment(only)))).takenAt).toBe('2026-03-01T10:00:00');
    const zero = exifBlock([{ tag: 306, type: 2, value: '0000:00:00 00:00:00' }]);
    expect((await factsOf(afterStart(jpeg, exifSegment(zero)))).takenAt).toBe(null);
    const xmp = xmpSegment('<rdf:Description exif:DateTimeOriginal="2026-02-11T09:41:03+05:00"/>');
    expect((await factsOf(afterStart(jpeg, xmp))).takenAt).toBe('2026-02-11T09:41:03');
  });

  test('tells devices apart by maker, model and serial', async () => {
    const block = exifBlock(
      [
        { tag: 271, type: 2, value: 'Invented' },
        { tag: 272, type: 2, value: 'Scope 3' },
      ],
      [{ tag: 0xa431, type: 2, value: 'SN-004711' }],
    );
    expect(await factsOf(afterStart(jpeg, exifSegment(block)))).toMatchObject({
      source: 'Invented Scope 3',
      device: 'Invented Scope 3 SN-004711',
    });
  });

  test('finds patient fields of XMP, in elements and attributes', async () => {
    const packet = `<rdf:Description DICOM:PatientName="Testcase^Rowan" DICOM:PatientID='A-20417' DICOM:PatientDOB="19840602">
      <Iptc4xmpExt:PersonInImage><rdf:Bag><rdf:li>Rowan &amp; Testcase</rdf:li></rdf:Bag></Iptc4xmpExt:PersonInImage>
      <dc:title><rdf:Alt><rdf:li xml:lang="x-default">A title</rdf:li></rdf:Alt></dc:title></rdf:Description>`;
    for (const file of [
      afterStart(jpeg, xmpSegment(packet)),
      beforeChunk(png, 'IDAT', iTXt('XML:com.adobe.xmp', packet)),
      withChunks(webp, riffChunk('XMP ', packet)),
      makeTiff([greyFields(4, 4, [700, 7, [...Buffer.from(packet)]])], Buffer.alloc(16)),
    ]) {
      const facts = await factsOf(file);
      expect(kindsOf(facts, 'person-name')).toEqual(['Testcase^Rowan', 'Rowan & Testcase']);
      expect(kindsOf(facts, 'person-id')).toEqual(['A-20417']);
      expect(kindsOf(facts, 'birth-date')).toEqual(['19840602']);
      expect(kindsOf(facts, 'free-text')).toContain('A title');
    }
  });

  test.each([
    ['Patient: Rowan Testcase', 'person-name', 'Rowan Testcase'],
    ['Patient name = Rowan Testcase, DOB: 1984-06-02', 'person-name', 'Rowan Testcase'],
    ['Patient name = Rowan Testcase, DOB: 1984-06-02', 'birth-date', '1984-06-02'],
    ['Name:Testcase;tooth 46', 'person-name', 'Testcase'],
    ['Pat.-Nr: A-20417', 'person-id', 'A-20417'],
    ['Pat.-Nr.: A-20417', 'person-id', 'A-20417'],
    ['Patient ID: A-20417 Name: Testcase', 'person-id', 'A-20417'],
    ['tooth 46\nMRN: 0099812', 'person-id', '0099812'],
    ['geb. 02.06.1984', 'birth-date', '02.06.1984'],
    ['Geburtsdatum: 02.06.1984', 'birth-date', '02.06.1984'],
  ])('takes "%s" apart in every carrier of free text', async (text, kind, value) => {
    const unicode = Buffer.concat([Buffer.from('UNICODE\0'), Buffer.from(text, 'utf16le')]);
    const files = [
      afterStart(jpeg, segment(0xfe, text)),
      afterStart(
        jpeg,
        exifSegment(
          exifBlock(
            [],
            [
              { tag: 0x9286, type: 7, value: unicode },
              { tag: 0x9003, type: 2, value: '2026:02:11 09:41:03' },
            ],
          ),
        ),
      ),
      afterStart(
        jpeg,
        exifSegment(
          exifBlock([
            { tag: 0x9c9c, type: 7, value: Buffer.from(`${text}\0`, 'utf16le') },
            { tag: 270, type: 2, value: 'x' },
          ]),
        ),
      ),
      beforeChunk(png, 'IDAT', zTXt('Comment', text)),
      makeTiff([greyFields(4, 4, [65000, 2, text])], Buffer.alloc(16)),
    ];
    for (const [index, file] of files.entries())
      expect([index, kindsOf(await factsOf(file), kind)]).toEqual([index, [value]]);
  });

  test('takes a PNG keyword as a label and never as the name of a field', async () => {
    const facts = await factsOf(
      beforeChunk(png, 'IDAT', pngChunk('tEXt', 'Patient\0Rowan Testcase')),
      'a.png',
    );
    expect(kindsOf(facts, 'person-name')).toEqual(['Rowan Testcase']);
    expect(facts.identifying.map(({ field }) => field).join()).not.toMatch(/Patient|Rowan/);
  });

  test('reads IPTC, and counts every carrier', async () => {
    const iptc = segment(0xed, 'Photoshop 3.0\x008BIM\x04\x04\0\0\0\x13\x1c\x02\x50\0\x0eRowan Testcase');
    const facts = await factsOf(afterStart(jpeg, iptc, segment(0xfe, 'hello'), segment(0xe7, 'x')));
    expect(kindsOf(facts, 'other')).toEqual(['Rowan Testcase']);
    expect(facts.carriers).toEqual({ iptc: 1, comment: 1, app7: 1 });
  });

  test('takes a picture in whose metadata is broken, says so, and still finds text in it', async () => {
    const broken = Buffer.from(exifBlock([{ tag: 0x13b, type: 2, value: 'Patient: Rowan Testcase' }]));
    broken.writeUInt32LE(0xffffff, 14);
    const facts = await factsOf(afterStart(jpeg, exifSegment(broken)));
    expect(facts.carriers['unreadable']).toBe(1);
    expect(kindsOf(facts, 'person-name')).toEqual(['Rowan Testcase']);
  });

  test('takes in any damaged metadata without throwing', async () => {
    const block = exifBlock(
      [{ tag: 0x13b, type: 2, value: 'Rowan' }],
      [{ tag: 0x9286, type: 7, value: Buffer.from('ASCII\0\0\0Testcase') }],
    );
    const packet = Buffer.from('<a:b c="d">e</a:b><rdf:li>f &#x41; &amp;</rdf:li>');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 8 }),
        fc.nat(),
        async (changes, cut) => {
          for (const [source, wrap] of [
            [block, exifSegment],
            [packet, (bytes: Buffer) => xmpSegment(bytes.toString('latin1'))],
            [block, (bytes: Buffer) => segment(0xed, Buffer.concat([Buffer.from('Photoshop 3.0\0'), bytes]))],
          ] as const) {
            const bytes = Buffer.from(source);
            for (const [at, value] of changes) bytes[at % bytes.length] = value;
            const outcome = await identify(
              afterStart(jpeg, wrap(bytes.subarray(0, cut % (bytes.length + 1)))),
              'a.jpg',
            );
            if (outcome.kind !== 'kept') return false;
          }
          return true;
        },
      ),
      { numRuns: 300 },
    );
  });

  test('a text bomb in a PNG costs its limit and is only left out', async () => {
    const bomb = Buffer.concat([Buffer.from('Comment\0\0'), deflateSync(Buffer.alloc(50_000_000))]);
    const facts = await factsOf(beforeChunk(png, 'IDAT', pngChunk('zTXt', bomb)), 'a.png');
    expect(facts.carriers).toEqual({ text: 1 });
  });
});
