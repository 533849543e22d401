import { deflateSync } from 'node:zlib';
import { beforeChunk, pngChunk, pngChunksOf, withPictureData } from '../../fixtures/png-pieces.js';
import { drawn, profileP3, thumbnailJpeg } from './drawn.js';
import { exifIfd } from './exif-block.js';
import { markedProfile } from './marked-profile.js';
import type { Plant } from './plant.js';
import { tiffTree } from './tiff-tree.js';
import type { MadeFile } from './visit.js';
import { xmpPacket } from './xmp-packet.js';

const pngOf = (seed: number): Promise<Buffer> => drawn(seed).png().toBuffer();
const join = (...parts: (Buffer | string)[]): Buffer =>
  Buffer.concat(parts.map((part) => (typeof part === 'string' ? Buffer.from(part, 'latin1') : part)));

/** ImageMagick's way of keeping a block: its length, then hex in lines. */
const rawProfile = (kind: string, data: Buffer): Buffer =>
  join(
    `Raw profile type ${kind}\0\0`,
    deflateSync(`\n${kind}\n${data.length}\n${data.toString('hex').replace(/.{72}/g, '$&\n')}\n`),
  );

async function texts(plant: Plant): Promise<Buffer> {
  const chunks = [
    ...plant.every('tEXt').map((text) => pngChunk('tEXt', join('Comment\0', text))),
    ...plant.every('zTXt').map((text) => pngChunk('zTXt', join('Author\0\0', deflateSync(text)))),
    ...plant.every('iTXt').map((text) => pngChunk('iTXt', join('Title\0\0\0en\0\0', text))),
    ...plant
      .every('iTXt, packed')
      .map((text) => pngChunk('iTXt', join('Title\0\x01\0en\0\0', deflateSync(text)))),
    pngChunk('tEXt', join(plant.bytes('tEXt keyword', 'latin1'), '\0x')),
    pngChunk('zTXt', join(plant.bytes('zTXt keyword', 'latin1'), '\0\0', deflateSync('x'))),
    pngChunk('iTXt', join('Title\0\0\0', plant.bytes('iTXt language'), '\0\0x')),
    pngChunk('iTXt', join('Title\0\0\0en\0', plant.bytes('iTXt translated keyword'), '\0x')),
    pngChunk('iTXt', join('XML:com.adobe.xmp\0\0\0\0\0', xmpPacket(plant))),
    pngChunk('zTXt', rawProfile('exif', join('Exif\0\0', plant.bytes('raw profile, EXIF')))),
    pngChunk('zTXt', rawProfile('iptc', plant.bytes('raw profile, IPTC'))),
    pngChunk('zTXt', join('Comment\0\0', deflateSync(deflateSync(plant.bytes('zTXt, packed twice'))))),
    pngChunk('tEXt', join('Comment\0', plant.bytes('tEXt, in base64').toString('base64'))),
  ];
  return beforeChunk(await pngOf(50), 'IDAT', ...chunks);
}

async function blocks(plant: Plant): Promise<Buffer> {
  const exif = tiffTree(exifIfd(plant, { thumbnail: await thumbnailJpeg() }));
  return beforeChunk(await pngOf(51), 'IEND', pngChunk('eXIf', exif), pngChunk('tIME', plant.seven('tIME')));
}

async function profile(plant: Plant): Promise<Buffer> {
  const packed = deflateSync(markedProfile(await profileP3(), plant));
  const chunk = pngChunk(
    'iCCP',
    join(plant.bytes('iCCP name', 'latin1'), '\0\0', packed, plant.bytes('iCCP, behind its zlib end')),
  );
  return beforeChunk(await pngOf(52), 'IDAT', chunk);
}

/** Chunks that nobody knows, or that are known and too long, cut or of a wrong checksum. */
async function others(plant: Plant): Promise<Buffer> {
  const names = 'prVt zqXx caNv vpAg caBX gIFx gIFg oFFs pCAL sCAL iDOT dSIG sTER hIST'.split(' ');
  const wrong = pngChunk('tEXt', join('Comment\0', plant.bytes('tEXt of a wrong checksum')));
  wrong[wrong.length - 1]! ^= 1;
  const early = [
    ...names.map((name) => pngChunk(name, plant.bytes(`chunk ${name}`))),
    pngChunk('sPLT', join(plant.bytes('sPLT name', 'latin1'), '\0\x08')),
    ...'gAMA cHRM sBIT bKGD pHYs cICP tRNS'
      .split(' ')
      .map((name) => pngChunk(name, plant.bytes(`${name}, too long`))),
    wrong,
    pngChunk('prVt', deflateSync(plant.bytes('unknown chunk, deflated'))),
  ];
  const late = [
    pngChunk('prVt', plant.bytes('chunk behind the picture')),
    pngChunk('tEXt', join('Author\0', plant.bytes('tEXt behind the picture'))),
  ];
  const file = beforeChunk(beforeChunk(await pngOf(53), 'IDAT', ...early), 'IEND', ...late);
  return join(
    file,
    ...plant.every('after IEND'),
    pngChunk('tEXt', join('Author\0', plant.bytes('chunk after IEND'))),
    deflateSync(plant.bytes('after IEND, deflated')),
  );
}

async function behindZlib(plant: Plant): Promise<Buffer> {
  const file = withPictureData(await pngOf(54), (zlib) =>
    join(zlib, plant.bytes('IDAT, behind the zlib end')),
  );
  return beforeChunk(file, 'IEND', pngChunk('IDAT', plant.bytes('an IDAT of its own behind the zlib end')));
}

async function moving(plant: Plant): Promise<Buffer> {
  const data = pngChunksOf(await pngOf(56)).find(({ name }) => name === 'IDAT')!.data;
  const frame = pngChunk('fcTL', Buffer.alloc(26));
  const frames = [
    frame,
    pngChunk('fdAT', join(Buffer.alloc(4), data)),
    pngChunk('fdAT', join(Buffer.alloc(4), plant.bytes('frame, data of none'))),
    pngChunk('fcTL', join(Buffer.alloc(26), plant.bytes('frame control, too long'))),
    pngChunk('tEXt', join('Author\0', plant.bytes('text between frames'))),
  ];
  const control = pngChunk('acTL', Buffer.from([0, 0, 0, 2, 0, 0, 0, 0]));
  return beforeChunk(beforeChunk(await pngOf(55), 'IEND', ...frames), 'IDAT', control, frame);
}

/** A suggested palette, and colours of a palette that no pixel has. */
async function palettes(plant: Plant): Promise<Buffer> {
  const text = plant.bytes('PLTE of a picture without palette');
  return beforeChunk(
    await pngOf(57),
    'IDAT',
    pngChunk('PLTE', join(text, Buffer.alloc((3 - (text.length % 3)) % 3))),
  );
}

async function unusedColours(plant: Plant): Promise<Buffer> {
  const file = await drawn(58).png({ palette: true, colours: 8 }).toBuffer();
  const chunk = pngChunksOf(file).find(({ name }) => name === 'PLTE')!;
  const text = plant.bytes('PLTE, colours of no pixel');
  const palette = join(chunk.data, text, Buffer.alloc((3 - (text.length % 3)) % 3));
  return join(file.subarray(0, chunk.at), pngChunk('PLTE', palette), file.subarray(chunk.end));
}

export const pngPlaces: MadeFile[] = [
  { name: 'texts.png', make: texts },
  { name: 'blocks.png', make: blocks },
  { name: 'profile.png', make: profile },
  { name: 'chunks.png', make: others },
  { name: 'behind-zlib.png', make: behindZlib },
  { name: 'moving.png', make: moving },
  { name: 'palette.png', make: palettes },
  { name: 'unused-colours.png', make: unusedColours },
];
