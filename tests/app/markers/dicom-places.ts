import { deflateRawSync } from 'node:zlib';
import sharp from 'sharp';
import { afterStart, before, segment } from '../../fixtures/jpeg-pieces.js';
import {
  CLASS,
  changed,
  codeOf,
  radiograph,
  rampPixels,
  slice,
  still,
} from '../../formats/dicom/copy/drawn-objects.js';
import {
  at,
  BIG,
  EXPLICIT,
  encode,
  fileOf,
  IMPLICIT,
  type Planted,
  type Writing,
} from '../../formats/dicom/copy/source-object.js';
import { codedFile, metaOf } from '../../formats/dicom/given/coded-objects.js';
import { NESTED, TEXTS } from './dicom-texts.js';
import type { Plant } from './plant.js';
import type { MadeFile } from './visit.js';

function markFor(plant: Plant, vr: string, place: string): string {
  const carrier = `${place} (${vr})`;
  if (vr === 'UI') return plant.uid(carrier);
  return ['AE', 'AS', 'CS', 'DS', 'IS', 'SH', 'TM', 'DA'].includes(vr)
    ? plant.short(carrier)
    : plant.word(carrier);
}

const textsOf = (plant: Plant, place: string, list = TEXTS): Planted[] =>
  list.map(([tag, vr, name]) => at(tag, vr, markFor(plant, vr, `${place} ${name}`)));

/** Texts beside or behind the values that a copy may keep. */
const besideKept = (plant: Plant): Planted[] => [
  at(0x00080008, 'CS', `ORIGINAL\\PRIMARY\\${plant.short('Image Type, third value')}`),
  codeOf(0x00082218, '661005', 'SCT', plant.word('meaning of a region code'), [
    at(0x0008010b, 'CS', 'Y'),
    at(0x0008010d, 'UI', plant.uid('context of a region code')),
    at(0x00080103, 'SH', plant.short('version of a region code')),
  ]),
  codeOf(0x00082228, '865995000', 'SCT', plant.word('meaning of a structure code')),
  at(0x00200020, 'CS', `L\\F\\${plant.short('Patient Orientation, third value')}`),
  at(0x00280a04, 'LO', plant.word('Pixel Spacing Calibration Description')),
  at(0x00281055, 'LO', plant.word('Window Explanation')),
  at(0x00281056, 'CS', 'LINEAR'),
];

/** Three sequences deep, of given or of open length. */
const threeDeep = (plant: Plant, open: boolean): Planted =>
  at(
    0x00400275,
    'SQ',
    [[at(0x00400008, 'SQ', [[at(0x00400440, 'SQ', [textsOf(plant, 'three deep', NESTED)], open)]], open)]],
    open,
  );

/** In the sequences of Original Attributes, references and the icon, and in one that a copy keeps. */
function nested(plant: Plant): Planted[] {
  return [
    threeDeep(plant, true),
    at(0x04000561, 'SQ', [
      [
        at(0x04000550, 'SQ', [textsOf(plant, 'Original Attributes', NESTED)]),
        at(0x04000563, 'LO', plant.word('Modifying System')),
        at(0x04000565, 'CS', plant.short('reason of a change')),
      ],
    ]),
    at(0x00081140, 'SQ', [
      [
        at(0x00081155, 'UI', plant.uid('Referenced Image')),
        at(0x0040a170, 'SQ', [[at(0x00080104, 'LO', plant.word('purpose of a reference'))]]),
      ],
    ]),
    at(0x00880200, 'SQ', [
      [
        at(0x00280002, 'US', [1]),
        at(0x00280004, 'CS', 'MONOCHROME2'),
        at(0x00280010, 'US', [1]),
        at(0x00280011, 'US', [26]),
        at(0x00280100, 'US', [8]),
        at(0x00280101, 'US', [8]),
        at(0x00280102, 'US', [7]),
        at(0x00280103, 'US', [0]),
        at(0x7fe00010, 'OW', plant.bytes('samples of the icon')),
      ],
    ]),
    codeOf(0x00082218, '661005', 'SCT', 'Jaw region', [
      at(0x00082220, 'SQ', [
        [
          at(0x00080104, 'LO', plant.word('modifier of a region')),
          ...textsOf(plant, 'in a kept sequence', NESTED.slice(0, 6)),
        ],
      ]),
    ]),
  ];
}

const withMeta = (plant: Plant) => ({
  preamble: plant.short('preamble').padEnd(60).concat(plant.short('preamble, its second half')),
  meta: [
    at(0x00020013, 'SH', plant.short('version of the writer')),
    at(0x00020016, 'AE', plant.short('source AE title')),
    at(0x00020026, 'UR', plant.word('presentation address')),
    at(0x00020100, 'UI', plant.uid('private information creator')),
    at(0x00020102, 'OB', plant.bytes('private information')),
  ],
});

/** Private elements, overlays, curves, waveforms and bytes of no kind. */
const bytesOf = (plant: Plant): Planted[] => [
  at(0x00090010, 'LO', plant.word('private creator')),
  ...plant.every('private, UN').map((text, n) => at(0x00091001 + n, 'UN', text)),
  ...plant.every('private, OB').map((text, n) => at(0x00091011 + n, 'OB', text)),
  ...plant.every('private, LO').map((text, n) => at(0x00091021 + n, 'LO', text)),
  at(0x00091031, 'SQ', [
    [at(0x00090010, 'LO', 'SAMPLEWORKS'), at(0x00091002, 'LT', plant.word('private sequence'))],
  ]),
  at(0x00290010, 'LO', 'SAMPLEWORKS'),
  at(0x00291010, 'OB', deflateRawBlock(plant)),
  at(0x60000010, 'US', [16]),
  at(0x60000011, 'US', [24]),
  at(0x60000022, 'LO', plant.word('Overlay Description')),
  at(0x60000040, 'CS', 'G'),
  at(0x60000050, 'SS', [1, 1]),
  at(0x60000100, 'US', [1]),
  at(0x60000102, 'US', [0]),
  at(0x60001500, 'LO', plant.word('Overlay Label')),
  at(0x60003000, 'OW', Buffer.concat([plant.bytes('overlay, its bits'), Buffer.alloc(22)])),
  at(0x60004000, 'LT', plant.word('Overlay Comments')),
  at(0x50003000, 'OW', plant.bytes('curve data')),
  at(0x04000520, 'OB', plant.bytes('encrypted content')),
  at(0x04000120, 'OB', plant.bytes('signature')),
  at(0x00420011, 'OB', plant.bytes('encapsulated document')),
  at(0x00282000, 'OB', plant.bytes('colour profile of text')),
  at(0xfffcfffc, 'OB', plant.bytes('trailing padding')),
];

/** A ZIP-like private block, as makers write them. */
const deflateRawBlock = (plant: Plant): Buffer => {
  const packed = deflateRawSync(plant.bytes('private, deflated'));
  const head = Buffer.alloc(30);
  head.write('PK\x03\x04', 'latin1');
  return Buffer.concat([head, packed]);
};

const mine = (elements: readonly Planted[], ...more: Planted[]): Planted[] => changed(elements, ...more);

const inLayout =
  (seed: number, writing: Writing, bits: number) =>
  async (plant: Plant): Promise<Buffer> => {
    const pixels = rampPixels(bits);
    const own = { ...pixels, data: pixels.data.map((value, n) => (n === 0 ? seed : value)) } as typeof pixels;
    return fileOf(
      mine(
        radiograph(CLASS.intraOral, 'IO', own, bits),
        ...besideKept(plant),
        ...textsOf(plant, 'top level'),
        threeDeep(plant, false),
      ),
      writing,
      withMeta(plant),
    );
  };
/** A still of JPEG baseline within DICOM: its own segments, and what stands behind its end. */
async function encapsulated(plant: Plant, behind: Buffer, from: number): Promise<Buffer> {
  const { data, widthPx, heightPx } = rampPixels(8);
  const jpeg = await sharp(Buffer.from(data).fill(90, 0, from), {
    raw: { width: widthPx, height: heightPx, channels: 1 },
  })
    .toColourspace('b-w')
    .jpeg({ quality: 92 })
    .toBuffer();
  const marked = before(
    afterStart(
      jpeg,
      segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0'), plant.bytes('fragment, APP1')])),
      segment(0xed, Buffer.concat([Buffer.from('Photoshop 3.0\0'), plant.bytes('fragment, APP13')])),
      ...plant.every('fragment, comment').map((text) => segment(0xfe, text)),
    ),
    0xda,
    segment(0xfe, plant.bytes('fragment, comment before its scan')),
  );
  const elements = mine(
    radiograph(CLASS.intraOral, 'IO', rampPixels(8), 8),
    ...textsOf(plant, 'coded'),
    at(0x00282110, 'CS', '01'),
    at(0x00282114, 'CS', `ISO_10918_1\\${plant.short('lossy method, second value')}`),
  );
  return codedFile(elements, '1.2.840.10008.1.2.4.50', [Buffer.concat([marked, behind])]);
}

function deflated(plant: Plant): Buffer {
  const pixels = rampPixels(10);
  const set = encode(
    mine(radiograph(CLASS.digital, 'DX', pixels, 10), ...textsOf(plant, 'deflated')),
    EXPLICIT,
  );
  return Buffer.concat([metaOf('1.2.840.10008.1.2.1.99'), deflateRawSync(set)]);
}

export const dicomPlaces: MadeFile[] = [
  {
    name: 'texts.dcm',
    make: async (plant) =>
      fileOf(
        mine(radiograph(), ...besideKept(plant), ...textsOf(plant, 'top level')),
        EXPLICIT,
        withMeta(plant),
      ),
  },
  {
    name: 'nested.dcm',
    make: async (plant) =>
      fileOf(mine(radiograph(CLASS.digital, 'DX', rampPixels(11), 11), ...nested(plant))),
  },
  {
    name: 'bytes.dcm',
    make: async (plant) =>
      fileOf(mine(radiograph(CLASS.intraOral, 'IO', rampPixels(9), 9), ...bytesOf(plant))),
  },
  { name: 'implicit.dcm', make: inLayout(7, IMPLICIT, 12) },
  { name: 'big-endian.dcm', make: inLayout(8, BIG, 12) },
  { name: 'deflated.dcm', make: async (plant) => deflated(plant) },
  { name: 'coded.dcm', make: (plant) => encapsulated(plant, Buffer.alloc(0), 0) },
  {
    name: 'coded-after-the-end.dcm',
    make: (plant) => encapsulated(plant, plant.bytes('fragment, after the end'), 9),
  },
  {
    name: 'slice.dcm',
    view: 'cbct-slice',
    make: async (plant) => fileOf(mine(slice(), ...textsOf(plant, 'slice'))),
  },
  {
    name: 'still.dcm',
    view: 'microscope',
    make: async (plant) => fileOf(mine(still(), ...textsOf(plant, 'still'))),
  },
  {
    name: 'after-the-end.dcm',
    make: async (plant) =>
      Buffer.concat([
        fileOf(mine(radiograph(CLASS.intraOral, 'IO', rampPixels(8), 8))),
        ...plant.every('after the end'),
      ]),
  },
];
