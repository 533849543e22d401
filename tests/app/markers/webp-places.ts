import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { riffChunk, withChunks } from '../../fixtures/webp-pieces.js';
import { drawn, HEIGHT_PX, profileP3, thumbnailJpeg, WIDTH_PX } from './drawn.js';
import { exifIfd } from './exif-block.js';
import { markedProfile } from './marked-profile.js';
import type { Plant } from './plant.js';
import { tiffTree } from './tiff-tree.js';
import type { MadeFile } from './visit.js';
import { xmpPacket } from './xmp-packet.js';

/** VP8X of RFC 9649, 2.7, with flags for profile, EXIF and XMP. */
function header(): Buffer {
  const data = Buffer.alloc(10);
  data[0] = 0x20 | 0x08 | 0x04;
  data.writeUIntLE(WIDTH_PX - 1, 4, 3);
  data.writeUIntLE(HEIGHT_PX - 1, 7, 3);
  return riffChunk('VP8X', data);
}

async function extended(plant: Plant): Promise<Buffer> {
  const plain = await drawn(80).webp().toBuffer();
  const exif = tiffTree(exifIfd(plant, { thumbnail: await thumbnailJpeg() }));
  const chunks = [
    header(),
    riffChunk('ICCP', markedProfile(await profileP3(), plant)),
    plain.subarray(12),
    riffChunk('EXIF', exif),
    riffChunk('XMP ', xmpPacket(plant)),
    riffChunk('EXIF', Buffer.concat([Buffer.from('Exif\0\0'), plant.bytes('a second EXIF')])),
    riffChunk('zqXx', deflateSync(plant.bytes('unknown chunk, deflated'))),
    ...plant.every('unknown chunk').map((text) => riffChunk('prVt', text)),
  ];
  return withChunks(plain.subarray(0, 12), ...chunks);
}

async function trailing(plant: Plant): Promise<Buffer> {
  const plain = await drawn(81).webp({ lossless: true }).toBuffer();
  const inside = withChunks(plain, riffChunk('prVt', plant.bytes('unknown chunk of a file without header')));
  return Buffer.concat([
    inside,
    ...plant.every('after the end'),
    deflateSync(plant.bytes('after the end, deflated')),
  ]);
}

/** A moving picture with chunks of no kind within its frames. */
async function moving(plant: Plant): Promise<Buffer> {
  const pictures = await Promise.all([82, 83].map((seed) => drawn(seed).png().toBuffer()));
  const file = await sharp(pictures, { join: { animated: true } })
    .webp({ loop: 0 })
    .toBuffer();
  const chunks: Buffer[] = [];
  let frame = 0;
  for (let at = 12; at < file.length; ) {
    const size = file.readUInt32LE(at + 4);
    const end = at + 8 + size + (size % 2);
    const name = file.toString('latin1', at, at + 4);
    if (name === 'ANMF') {
      frame++;
      const extra = riffChunk('prVt', plant.bytes(`frame ${frame}, unknown chunk`));
      chunks.push(riffChunk('ANMF', Buffer.concat([file.subarray(at + 8, end), extra])));
    } else chunks.push(file.subarray(at, end));
    at = end;
  }
  return withChunks(
    file.subarray(0, 12),
    ...chunks,
    riffChunk('XMP ', Buffer.from(`<x:xmpmeta>${plant.word('XMP of a moving picture')}</x:xmpmeta>`)),
  );
}

/** The picture's own chunk made longer: a decoder stops at the last pixel. */
async function behindPicture(plant: Plant, seed: number, lossless: boolean): Promise<Buffer> {
  const file = await drawn(seed).webp({ lossless }).toBuffer();
  const name = file.toString('latin1', 12, 16);
  const data = file.subarray(20, 20 + file.readUInt32LE(16));
  const longer = riffChunk(name, Buffer.concat([data, plant.bytes(`${name}, behind its picture`)]));
  return withChunks(file.subarray(0, 12), longer);
}

export const webpPlaces: MadeFile[] = [
  { name: 'behind-lossy.webp', make: (plant) => behindPicture(plant, 84, false) },
  { name: 'behind-lossless.webp', make: (plant) => behindPicture(plant, 85, true) },
  { name: 'extended.webp', make: extended },
  { name: 'trailing.webp', make: trailing },
  { name: 'moving.webp', make: moving },
];
