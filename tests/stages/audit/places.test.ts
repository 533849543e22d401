import { deflateSync, gzipSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { exifBlock } from '../../fixtures/exif-block.js';
import { afterStart, segment } from '../../fixtures/jpeg-pieces.js';
import { beforeChunk, iTXt, pngChunk, zTXt } from '../../fixtures/png-pieces.js';
import { greyFields, makeTiff } from '../../fixtures/tiff-pieces.js';
import { riffChunk, withChunks } from '../../fixtures/webp-pieces.js';
import { docx, pptx, zip } from './given/packed.js';
import { IN_OBJECTS } from './given/planted-pdf.js';
import { kindsOf, read } from './given/read.js';

const NAME = 'Rowan Testcase';

const picture = sharp({ create: { width: 40, height: 30, channels: 3, background: '#8a6a4a' } });
const jpeg = await picture.clone().jpeg().toBuffer();
const png = await picture.clone().png().toBuffer();
const webp = await picture.clone().webp({ lossless: true }).toBuffer();
const tiff = (...more: Parameters<typeof greyFields>[2][]) =>
  makeTiff([greyFields(8, 8, ...more)], Buffer.alloc(64, 90));

/** Bytes that are no text: every value, in an order without words. */
const noise = Buffer.from(Array.from({ length: 4096 }, (_, at) => (at * 197 + (at >> 3) * 31) & 255));
const inNoise = (bytes: Uint8Array): Buffer => Buffer.concat([noise, bytes, noise]);

const utf16 = (text: string, big: boolean): Buffer => {
  const little = Buffer.from(text, 'utf16le');
  return big ? little.swap16() : little;
};

const packet = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:dc="http://purl.org/dc/elements/1.1/" dc:creator="${NAME}"/></rdf:RDF></x:xmpmeta>`;

const exifSegment = (fields: Parameters<typeof exifBlock>[0], more: Parameters<typeof exifBlock>[0] = []) =>
  afterStart(jpeg, segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0'), exifBlock(fields, more)])));

/** Each place with a file that holds the name there and nowhere else. */
const PLACES: Record<string, () => Uint8Array | Promise<Uint8Array>> = {
  'text in UTF-8': () => Buffer.from(`A note on ${NAME}.`),
  'text in UTF-16 with its mark': () =>
    Buffer.concat([Buffer.from([0xff, 0xfe]), utf16(`A note on ${NAME}.`, false)]),
  'text with the name broken at the end of a line': () => Buffer.from('A note on Row-\nan and her tooth'),
  'bytes in Latin-1': () => inNoise(Buffer.from('ROWAN', 'latin1')),
  'bytes in UTF-16, little endian': () => inNoise(utf16('Rowan', false)),
  'bytes in UTF-16, big endian, odd place': () =>
    inNoise(Buffer.concat([Buffer.from([7]), utf16('rowan', true)])),
  'a zlib stream': () => inNoise(deflateSync(`name=${NAME};tooth=46`)),
  'a zlib stream within a zlib stream': () => inNoise(deflateSync(inNoise(deflateSync(`name=${NAME};`)))),
  'a gzip stream': () => inNoise(gzipSync(`name=${NAME};tooth=46`)),
  'a gzip file': () => gzipSync(`A note on ${NAME}.`),
  'a ZIP member': () => zip({ 'note.txt': `A note on ${NAME}.` }),
  'the name of a ZIP member': () => zip({ 'testcase_rowan.txt': 'nothing' }),
  'a ZIP within a ZIP': () => zip({ 'inner.zip': zip({ 'note.txt': `A note on ${NAME}.` }) }),
  'a ZIP appended to a picture': () => Buffer.concat([jpeg, zip({ 'note.txt': `A note on ${NAME}.` })]),
  'a ZIP member that is not in the list': () => {
    const whole = zip({ 'note.txt': `A note on ${NAME}.` });
    const other = zip({ 'empty.txt': 'nothing' });
    // The members of one archive, then another archive with a list of its own.
    return Buffer.concat([whole.subarray(0, whole.indexOf('PK\x01\x02')), other]);
  },
  'a document, its name in two runs': () => docx('Ro', 'wan'),
  "a speaker's notes": () => pptx(`This is ${NAME}`, ''),
  'the properties of slides': () => pptx('nothing', `<dc:creator>${NAME}</dc:creator>`),
  'a data link in a page': () =>
    Buffer.from(
      `<html><body><a href="data:text/plain;base64,${Buffer.from(`A note on ${NAME}.`).toString('base64')}">x</a></body></html>`,
    ),
  'a JPEG comment': () => afterStart(jpeg, segment(0xfe, NAME)),
  'EXIF Artist': () => exifSegment([{ tag: 0x013b, type: 2, value: NAME }]),
  'an EXIF comment in UTF-16': () =>
    exifSegment(
      [{ tag: 0x0112, type: 3, value: 1 }],
      [{ tag: 0x9286, type: 7, value: Buffer.concat([Buffer.from('UNICODE\0'), utf16(NAME, false)]) }],
    ),
  'XMP in a JPEG': () => afterStart(jpeg, segment(0xe1, `http://ns.adobe.com/xap/1.0/\0${packet}`)),
  'IPTC in a JPEG': () =>
    afterStart(
      jpeg,
      segment(
        0xed,
        Buffer.concat([
          Buffer.from('Photoshop 3.0\x008BIM\x04\x04\0\0\0\0\0\x13', 'latin1'),
          Buffer.from([0x1c, 2, 80, 0, 14]),
          Buffer.from(NAME),
          Buffer.from([0]),
        ]),
      ),
    ),
  'bytes after a JPEG': () => Buffer.concat([jpeg, Buffer.from(NAME)]),
  'a PNG text chunk': () => beforeChunk(png, 'IDAT', pngChunk('tEXt', `Author\0${NAME}`)),
  'a packed PNG text chunk': () => beforeChunk(png, 'IDAT', zTXt('Comment', NAME)),
  'an international PNG text chunk': () => beforeChunk(png, 'IDAT', iTXt('Title', NAME)),
  'an unknown PNG chunk': () => beforeChunk(png, 'IDAT', pngChunk('juNk', NAME)),
  'bytes after a PNG': () => Buffer.concat([png, Buffer.from(NAME)]),
  'a TIFF tag': () => tiff([270, 2, NAME]),
  'a private TIFF tag': () => tiff([50000, 7, [...Buffer.from(NAME)]]),
  'a WebP chunk': () => withChunks(webp, riffChunk('XMP ', packet)),
  ...Object.fromEntries(
    Object.entries(IN_OBJECTS).map(([place, make]) => [`PDF: ${place}`, () => make(NAME)] as const),
  ),
};

describe('a name is found in', () => {
  it.each(Object.keys(PLACES))('%s', async (place) => {
    const found = await read(await PLACES[place]!());
    expect(kindsOf(found)).toContain('patient-name');
    // Never the value, neither as planted nor folded.
    expect(JSON.stringify(found).toLowerCase()).not.toMatch(/rowan|testcase/);
  });

  it('none of them when another name stands there', async () => {
    const other = {
      patients: [{ chart: 'B-77310', names: ['Quill Elsewhere'], born: null, visitDates: [] }],
    };
    for (const make of Object.values(PLACES)) {
      const found = await read(await make(), {
        strings: [],
        fileNames: [],
        lines: [],
        allowed: [],
        ...other,
      });
      expect(kindsOf(found)).not.toContain('patient-name');
    }
  });
});

describe('kinds are found in', () => {
  it.each([
    ['EXIF dates', exifSegment([{ tag: 0x0132, type: 2, value: '2026:02:11 09:41:03' }]), 'visit-date'],
    [
      'a serial number in EXIF',
      exifSegment([{ tag: 0x0112, type: 3, value: 1 }], [{ tag: 0xa431, type: 2, value: '7' }]),
      'serial',
    ],
    ['an owner in EXIF', exifSegment([{ tag: 0x013b, type: 2, value: 'Somebody' }]), 'name'],
    ['the time of a PNG', beforeChunk(png, 'IDAT', pngChunk('tIME', '\x07\xea\x02\x0b\x09\x29\x03')), 'date'],
    [
      'the properties of a document',
      pptx('x', '<dcterms:created>2019-05-04T10:00:00Z</dcterms:created>'),
      'date',
    ],
    ['the speaker notes', pptx('Call Ms Elsewhere', ''), 'name'],
  ])('%s', async (_, bytes, kind) => {
    expect(kindsOf(await read(bytes))).toContain(kind);
  });

  it('PDF dates', async () => {
    const found = await read(await IN_OBJECTS['Info dictionary']!("D:20190504101010+00'00'"));
    expect(kindsOf(found)).toContain('date');
  });
});

describe('pictures with nothing in them', () => {
  it.each([
    ['JPEG', jpeg],
    ['PNG', png],
    ['WebP', webp],
    ['TIFF', tiff()],
  ])('are clean: %s', async (_, bytes) => {
    expect(await read(bytes)).toEqual({ hits: [], possible: [], unread: [] });
  });
});
