import { deflateSync } from 'node:zlib';
import { drawn, HEIGHT_PX, profileP3, thumbnailJpeg, WIDTH_PX } from './drawn.js';
import { exifIfd } from './exif-block.js';
import { markedProfile } from './marked-profile.js';
import { iptcRecords, photoshopResources } from './photoshop-block.js';
import { CODINGS, type Coding, type Plant } from './plant.js';
import { type Ifd, numbers, type TreeField, tiffTree } from './tiff-tree.js';
import type { MadeFile } from './visit.js';
import { xmpPacket } from './xmp-packet.js';

/** As every ASCII value ends (TIFF 6.0, section 2); libtiff complains of others. */
const zero = (text: Buffer): Buffer => Buffer.concat([text, Buffer.alloc(1)]);

/** Picture fields of an RGB page in one strip: TIFF 6.0, section 6. */
async function page(
  seed: number,
  big: boolean,
  { packed = false, behind = Buffer.alloc(0) as Buffer } = {},
): Promise<TreeField[]> {
  const samples = await drawn(seed).raw().toBuffer();
  const strip = Buffer.concat([packed ? deflateSync(samples) : samples, behind]);
  const n = (type: 3 | 4, ...values: number[]) => numbers(type, big, ...values);
  return [
    [256, 4, n(4, WIDTH_PX)],
    [257, 4, n(4, HEIGHT_PX)],
    [258, 3, n(3, 8, 8, 8)],
    [259, 3, n(3, packed ? 8 : 1)],
    [262, 3, n(3, 2)],
    [273, 4, { data: strip }],
    [277, 3, n(3, 3)],
    [278, 4, n(4, HEIGHT_PX)],
    [279, 4, n(4, strip.length)],
  ];
}

/** ASCII tags of TIFF 6.0 beyond those of EXIF, its technical notes, and registered or private ones. */
const TEXTS: [number, string][] = [
  [32781, 'ImageID'],
  [32932, 'annotations of a viewer'],
  [34687, 'a private tag of 34687'],
  [37706, 'StudyDateTime'],
  [42112, 'metadata of a map program'],
  [50838, 'a private tag of 50838'],
  [65535, 'the last private tag'],
];

async function tags(plant: Plant, seed: number, coding: Coding): Promise<Buffer> {
  const big = coding === 'utf16be';
  // libtiff complains of zeros within ASCII, and the picture is held then
  const wide = coding.startsWith('utf16');
  const asciiCoding = wide ? 'utf8' : coding;
  const sub: Ifd = {
    fields: [
      ...(await page(seed + 1, big)),
      [315, 2, zero(plant.bytes('SubIFD Artist', asciiCoding))],
      [700, 1, plant.bytes('SubIFD XMP', coding)],
    ],
  };
  const more: TreeField[] = [
    ...(await page(seed, big)),
    [337, 2, zero(plant.bytes('TIFF TargetPrinter', asciiCoding))],
    ...TEXTS.map(([tag, name]): TreeField => [tag, wide ? 7 : 2, zero(plant.bytes(`TIFF ${name}`, coding))]),
    [330, 4, { ifd: sub }],
    [
      37724,
      7,
      Buffer.concat([
        Buffer.from('Adobe Photoshop Document Data Block\0'),
        plant.bytes('TIFF ImageSourceData', coding),
      ]),
    ],
    [347, 7, plant.bytes('TIFF JPEGTables', coding)],
  ];
  return tiffTree(exifIfd(plant, { big, coding, asciiCoding, more }), { big });
}

async function blocks(plant: Plant): Promise<Buffer> {
  const iptc = iptcRecords(plant);
  const fields: TreeField[] = [
    ...(await page(64, false)),
    [700, 1, xmpPacket(plant)],
    [33723, 7, iptc],
    [34377, 7, photoshopResources(plant, Buffer.alloc(0), await thumbnailJpeg())],
    [34675, 7, markedProfile(await profileP3(), plant)],
  ];
  return tiffTree({ fields });
}

/** Two more pages, bytes that nothing points to, and bytes that no decoder reads. */
async function gaps(plant: Plant): Promise<Buffer> {
  const third: Ifd = {
    fields: [...(await page(67, false)), [270, 2, zero(plant.bytes('third page, description'))]],
    gap: plant.bytes('gap behind the third page'),
  };
  const second: Ifd = {
    fields: [
      ...(await page(66, false, { packed: true })),
      [315, 2, zero(plant.bytes('second page, Artist'))],
      [700, 1, plant.bytes('second page, XMP')],
    ],
    gap: plant.bytes('gap behind the second page', 'utf16le'),
    next: third,
  };
  const file = tiffTree(
    { fields: await page(65, false), gap: plant.bytes('gap behind the first page', 'utf16be'), next: second },
    { gap: plant.bytes('gap behind the header', 'latin1') },
  );
  return Buffer.concat([
    file,
    ...plant.every('after the end'),
    deflateSync(plant.bytes('after the end, deflated')),
  ]);
}

export const tiffPlaces: MadeFile[] = [
  ...CODINGS.map(
    (coding, n): MadeFile => ({
      name: `tags-${coding}.tif`,
      make: (plant) => tags(plant, 70 + 3 * n, coding),
    }),
  ),
  { name: 'blocks.tif', make: blocks },
  { name: 'gaps.tif', make: gaps },
  {
    name: 'behind-strip.tif',
    make: async (plant) =>
      tiffTree({ fields: await page(68, false, { behind: plant.bytes('strip, behind its samples') }) }),
  },
  {
    name: 'behind-zlib.tif',
    make: async (plant) =>
      tiffTree({
        fields: await page(69, false, { packed: true, behind: plant.bytes('strip, behind the zlib end') }),
      }),
  },
];
