import { deflateRawSync, deflateSync } from 'node:zlib';
import {
  afterStart,
  before,
  insertAt,
  restartJpeg,
  segment,
  segmentsOf,
} from '../../fixtures/jpeg-pieces.js';
import { drawn, profileP3, thumbnailJpeg } from './drawn.js';
import { exifIfd } from './exif-block.js';
import { markedProfile } from './marked-profile.js';
import { iptcRecords, photoshopResources } from './photoshop-block.js';
import { CODINGS, type Plant } from './plant.js';
import { numbers, tiffTree } from './tiff-tree.js';
import type { MadeFile } from './visit.js';
import { xmpPacket } from './xmp-packet.js';

const XMP = Buffer.from('http://ns.adobe.com/xap/1.0/\0');
const XMP_MORE = Buffer.from('http://ns.adobe.com/xmp/extension/\0');
const app = (number: number, head: string, ...data: Buffer[]): Buffer =>
  segment(0xe0 + number, Buffer.concat([Buffer.from(head, 'latin1'), ...data]));

const jpegOf = (seed: number, options = {}): Promise<Buffer> => drawn(seed).jpeg(options).toBuffer();

async function withExif(plant: Plant, seed: number, coding: (typeof CODINGS)[number]): Promise<Buffer> {
  const big = coding === 'utf16be' || coding === 'latin1';
  const block = tiffTree(exifIfd(plant, { big, coding, thumbnail: await thumbnailJpeg() }), { big });
  return afterStart(await jpegOf(seed), app(1, 'Exif\0\0', block));
}

/** Extended XMP (XMP specification part 3, 1.1.3.1): the same GUID, whole length, and place of each piece. */
function extended(plant: Plant): Buffer[] {
  const packet = Buffer.from(
    `<x:xmpmeta><rdf:Description a="${plant.word('XMP extended, first half')}">${' '.repeat(300)}<b>${plant.word('XMP extended, second half')}</b></rdf:Description></x:xmpmeta>`,
  );
  const half = packet.length >> 1;
  return [0, half].map((from) => {
    const head = Buffer.alloc(8);
    head.writeUInt32BE(packet.length, 0);
    head.writeUInt32BE(from, 4);
    const guid = Buffer.from('0123456789ABCDEF0123456789ABCDEF');
    return segment(
      0xe1,
      Buffer.concat([XMP_MORE, guid, head, packet.subarray(from, from === 0 ? half : undefined)]),
    );
  });
}

/** Every APPn with a head that nobody knows, the known ones with more than they should hold, and comments. */
async function withSegments(plant: Plant): Promise<Buffer> {
  const all = Array.from({ length: 16 }, (_, n) => app(n, `DRAWN${n}\0`, plant.bytes(`APP${n}`)));
  const jfxx = Buffer.concat([
    Buffer.from([0x10]),
    afterStart(await thumbnailJpeg(), segment(0xfe, plant.bytes('JFXX thumbnail, comment'))),
  ]);
  const rgb = plant.bytes('JFIF thumbnail, samples');
  const thumb = Buffer.concat([rgb, Buffer.alloc(27 * 3 - rgb.length)]);
  return afterStart(
    await jpegOf(30),
    app(0, 'JFIF\0\x01\x02\0\0\x01\0\x01\x1b\x01', thumb),
    app(0, 'JFXX\0', jfxx),
    app(0, 'JFXX\0\x13', plant.bytes('JFXX, samples')),
    app(14, 'Adobe\0\x64\0\0\0\0\x01', plant.bytes('APP14, behind its 12 bytes')),
    app(2, 'FPXR\0', plant.bytes('APP2 FlashPix')),
    app(11, 'JP\0\x01', plant.bytes('APP11 JUMBF')),
    app(12, 'Ducky\0', plant.bytes('APP12 Ducky')),
    app(1, 'Exif\0\0', plant.bytes('EXIF that is none')),
    app(1, 'Exif\0\0', deflateSync(plant.bytes('EXIF that is none, deflated'))),
    ...all,
    ...plant.every('comment').map((text) => segment(0xfe, text)),
    segment(0xfe, deflateSync(plant.bytes('comment, deflated'))),
    segment(0xfe, deflateSync(deflateSync(plant.bytes('comment, deflated twice')))),
    segment(0xfe, plant.bytes('comment, in hex').toString('hex')),
    segment(0xfe, plant.bytes('comment, UTF-16 in hex', 'utf16be').toString('hex').toUpperCase()),
    segment(0xfe, plant.bytes('comment, in base64').toString('base64')),
    segment(0xfe, plant.bytes('comment, UTF-16 in base64', 'utf16le').toString('base64')),
    segment(0xfe, plant.word('comment, in capitals').toUpperCase()),
  );
}

/** A table of quantisation that no scan uses. */
function unusedTable(text: Buffer): Buffer {
  return segment(0xdb, Buffer.concat([Buffer.from([3]), text, Buffer.alloc(64 - text.length, 7)]));
}

async function betweenSegments(plant: Plant): Promise<Buffer> {
  const plain = await jpegOf(31);
  const places = segmentsOf(plain).filter(({ marker }) => marker !== 0xd9);
  const stuffed = [...places]
    .reverse()
    .reduce(
      (bytes, { at, marker }) =>
        insertAt(bytes, at, plant.bytes(`between segments, before ${marker.toString(16)}`)),
      plain,
    );
  return afterStart(
    stuffed,
    unusedTable(plant.bytes('an unused table')),
    unusedTable(plant.bytes('an unused table, defined again')),
  );
}

/** Comments, EXIF with an end mark in its thumbnail, and junk between the scans of a progressive picture. */
async function betweenScans(plant: Plant): Promise<Buffer> {
  let bytes = await jpegOf(32, { progressive: true });
  const scans = segmentsOf(bytes).filter(({ marker }) => marker === 0xda).length;
  for (let nth = scans - 1; nth > 0; nth--) {
    const block = tiffTree({
      fields: [
        [0x013b, 2, plant.bytes(`EXIF before scan ${nth}`)],
        [0xfde8, 7, Buffer.from([0xff, 0xd8, 0xff, 0xd9])],
      ],
    });
    bytes = before(
      bytes,
      0xda,
      Buffer.concat([
        segment(0xfe, plant.bytes(`comment before scan ${nth}`)),
        app(1, 'Exif\0\0', block),
        app(
          1,
          XMP.toString('latin1'),
          Buffer.from(`<x:xmpmeta>${plant.word(`XMP before scan ${nth}`)}</x:xmpmeta>`),
        ),
      ]),
      nth,
    );
  }
  return bytes;
}

/** A ZIP of one member (APPNOTE 4.3.7), without directory. */
function zipOf(data: Buffer, name: string): Buffer {
  const packed = deflateRawSync(data);
  const head = Buffer.alloc(30);
  head.write('PK\x03\x04', 'latin1');
  head.writeUInt16LE(20, 4);
  head.writeUInt16LE(8, 8);
  head.writeUInt32LE(packed.length, 18);
  head.writeUInt32LE(data.length, 22);
  head.writeUInt16LE(Buffer.byteLength(name), 26);
  return Buffer.concat([head, Buffer.from(name), packed]);
}

async function afterTheEnd(plant: Plant): Promise<Buffer> {
  return Buffer.concat([
    await jpegOf(33),
    ...plant.every('after the end'),
    zipOf(plant.bytes('after the end, in a ZIP'), plant.word('after the end, a name in a ZIP')),
    deflateSync(plant.bytes('after the end, deflated')),
  ]);
}

/** A second picture by the index of CIPA DC-007, with metadata of its own. */
async function multiPicture(plant: Plant): Promise<Buffer> {
  const entries = Buffer.alloc(32);
  entries.writeUInt32LE(3 << 16, 0);
  const index = tiffTree({
    fields: [
      [0xb000, 7, Buffer.from('0100')],
      [0xb001, 4, numbers(4, false, 2)],
      [0xb002, 7, entries],
      [0xb003, 7, plant.bytes('multi-picture index, list of unique IDs')],
    ],
  });
  const second = afterStart(
    await jpegOf(35),
    app(1, 'Exif\0\0', tiffTree({ fields: [[0x013b, 2, plant.bytes('second picture, EXIF')]] })),
    app(
      1,
      XMP.toString('latin1'),
      Buffer.from(`<x:xmpmeta>${plant.word('second picture, XMP')}</x:xmpmeta>`),
    ),
    segment(0xfe, plant.bytes('second picture, comment')),
  );
  return Buffer.concat([
    afterStart(await jpegOf(34), app(2, 'MPF\0', index)),
    plant.bytes('between two pictures'),
    second,
    plant.bytes('after the second picture'),
  ]);
}

async function withProfile(plant: Plant): Promise<Buffer> {
  const profile = markedProfile(await profileP3(), plant);
  const half = profile.length >> 1;
  // out of order, as some writers have it
  const pieces = [profile.subarray(half), profile.subarray(0, half)].map((piece, n) =>
    app(2, `ICC_PROFILE\0${String.fromCharCode(2 - n)}\x02`, piece),
  );
  return afterStart(await jpegOf(36), ...pieces);
}

async function withPhotoshop(plant: Plant, seed: number, coding: (typeof CODINGS)[number]): Promise<Buffer> {
  const resources = photoshopResources(plant, iptcRecords(plant, coding), await thumbnailJpeg());
  return afterStart(await jpegOf(seed), app(13, 'Photoshop 3.0\0', resources));
}

export const jpegPlaces: MadeFile[] = [
  ...CODINGS.map(
    (coding, n): MadeFile => ({
      name: `exif-${coding}.jpg`,
      make: (plant) => withExif(plant, 10 + n, coding),
    }),
  ),
  ...CODINGS.map(
    (coding, n): MadeFile => ({
      name: `xmp-${coding}.jpg`,
      make: async (plant) =>
        afterStart(await jpegOf(20 + n), segment(0xe1, Buffer.concat([XMP, xmpPacket(plant, coding)]))),
    }),
  ),
  {
    name: 'xmp-extended.jpg',
    make: async (plant) =>
      afterStart(
        await jpegOf(24),
        app(1, XMP.toString('latin1'), Buffer.from('<x:xmpmeta/>')),
        ...extended(plant),
      ),
  },
  { name: 'iptc-utf8.jpg', make: (plant) => withPhotoshop(plant, 25, 'utf8') },
  { name: 'iptc-latin1.jpg', make: (plant) => withPhotoshop(plant, 26, 'latin1') },
  { name: 'segments.jpg', make: withSegments },
  { name: 'between-segments.jpg', make: betweenSegments },
  { name: 'between-scans.jpg', make: betweenScans },
  { name: 'after-the-end.jpg', make: afterTheEnd },
  { name: 'two-pictures.jpg', make: multiPicture },
  { name: 'profile.jpg', make: withProfile },
  {
    name: 'behind-the-last-scan.jpg',
    make: async (plant) => {
      const bytes = await jpegOf(37, { progressive: true });
      return insertAt(bytes, bytes.length - 2, plant.bytes('in the last of many scans, behind its codes'));
    },
  },
  {
    name: 'after-the-start.jpg',
    make: async (plant) => afterStart(await jpegOf(38), plant.bytes('right after the start')),
  },
  {
    name: 'behind-the-last-block.jpg',
    make: async (plant) => restartJpeg(20, plant.bytes('in a scan, behind its last block')),
  },
];
