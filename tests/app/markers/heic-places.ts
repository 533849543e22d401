import { deflateSync } from 'node:zlib';
import * as H from '../../fixtures/heic-pieces.js';
import { profileP3, thumbnailJpeg } from './drawn.js';
import { exifIfd } from './exif-block.js';
import { markedProfile } from './marked-profile.js';
import type { Plant } from './plant.js';
import { tiffTree } from './tiff-tree.js';
import type { MadeFile } from './visit.js';
import { xmpPacket } from './xmp-packet.js';

async function items(plant: Plant): Promise<Buffer> {
  const exif = tiffTree(exifIfd(plant, { big: true, thumbnail: await thumbnailJpeg() }), { big: true });
  const packed = { contentEncoding: 'deflate' };
  return H.makeHeic([
    H.codedItem({ name: plant.word('name of the picture') }),
    H.exifItem(exif),
    H.mimeItem('application/rdf+xml', xmpPacket(plant)),
    {
      ...H.mimeItem(
        'application/rdf+xml',
        deflateSync(`<x:xmpmeta>${plant.word('XMP, deflated')}</x:xmpmeta>`),
      ),
      ...packed,
    },
    ...plant.every('item of text').map((text) => H.mimeItem('text/plain', text)),
    { ...H.mimeItem(plant.word('type of an item'), 'x'), name: plant.word('name of an item') },
    { type: 'uri ', data: plant.bytes('item named by an address'), refers: ['cdsc', 1] as [string, number] },
    H.exifItem(plant.bytes('EXIF that is none')),
  ]);
}

async function boxes(plant: Plant): Promise<Buffer> {
  const properties = [
    ...H.codedItem().properties!,
    H.box('colr', 'prof', markedProfile(await profileP3(), plant)),
    H.fullBox(
      'udes',
      0,
      0,
      `en\0${plant.word('description, name')}\0${plant.word('description')}\0${plant.word('description, tags')}\0`,
    ),
    H.box('zqXx', plant.bytes('a property of no kind')),
  ];
  const apart = ['uuid', 'free', 'skip', 'zqXx'].map((type) => H.box(type, plant.bytes(`box ${type}`)));
  return H.makeHeic([H.codedItem({ properties })], {
    boxes: [...apart, H.box('udta', H.box('name', plant.bytes('user data')))],
    after: Buffer.concat(plant.every('after the end')),
  });
}

async function pictures(plant: Plant): Promise<Buffer> {
  return H.makeHeic([
    H.codedItem(),
    {
      type: 'jpeg',
      data: Buffer.concat([await thumbnailJpeg(), plant.bytes('thumbnail')]),
      refers: ['thmb', 1],
    },
    { type: 'hvc1', data: plant.bytes('depth map'), refers: ['auxl', 1] },
    { type: 'jpeg', data: plant.bytes('second picture') },
    { type: 'zzzz', data: plant.bytes('data of no kind') },
    H.codedItem({ name: plant.word('name of the second picture') }),
    H.exifItem(tiffTree(exifIfd(plant, { coding: 'latin1' })), 6),
  ]);
}

/** The coded picture followed by one unit more, of a kind that decoders pass over (ITU-T H.265, table 7-1: 48 and up). */
function behindPicture(plant: Plant): Buffer {
  const text = Buffer.concat([
    Buffer.from([48 << 1, 1]),
    plant.bytes('a unit of no kind behind the picture'),
  ]);
  return H.makeHeic([H.codedItem({ data: Buffer.concat([H.codedPicture, H.u(4, text.length), text]) })]);
}

export const heicPlaces: MadeFile[] = [
  { name: 'behind-picture.heic', make: async (plant) => behindPicture(plant) },
  { name: 'items.heic', make: items },
  { name: 'boxes.heic', make: boxes },
  { name: 'pictures.heic', make: pictures },
];
