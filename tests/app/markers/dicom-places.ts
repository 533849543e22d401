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
import type { Plant } from './plant.js';
import type { MadeFile } from './visit.js';

/** Attributes of PS3.6 and of the table of PS3.15 E.1-1, one or more for each kind of text. */
const TEXTS: [tag: number, vr: string, name: string][] = [
  [0x00080012, 'DA', 'Instance Creation Date'],
  [0x00080020, 'DA', 'Study Date'],
  [0x00080023, 'DA', 'Content Date'],
  [0x0008002a, 'DT', 'Acquisition DateTime'],
  [0x00080030, 'TM', 'Study Time'],
  [0x00080050, 'SH', 'Accession Number'],
  [0x00080054, 'AE', 'Retrieve AE Title'],
  [0x00080070, 'LO', 'Manufacturer'],
  [0x00080080, 'LO', 'Institution Name'],
  [0x00080081, 'ST', 'Institution Address'],
  [0x00080090, 'PN', 'Referring Physician'],
  [0x00080092, 'ST', 'Referring Address'],
  [0x00080094, 'SH', 'Referring Telephone'],
  [0x00080119, 'UC', 'Long Code Value'],
  [0x00081010, 'SH', 'Station Name'],
  [0x00081030, 'LO', 'Study Description'],
  [0x0008103e, 'LO', 'Series Description'],
  [0x00081040, 'LO', 'Department'],
  [0x00081048, 'PN', 'Physicians of Record'],
  [0x00081050, 'PN', 'Performing Physician'],
  [0x00081070, 'PN', 'Operator'],
  [0x00081080, 'LO', 'Admitting Diagnosis'],
  [0x00081090, 'LO', 'Model Name'],
  [0x00081190, 'UR', 'Retrieve URL'],
  [0x00082111, 'ST', 'Derivation Description'],
  [0x00084000, 'LT', 'Identifying Comments'],
  [0x00100010, 'PN', 'Patient Name'],
  [0x00100020, 'LO', 'Patient ID'],
  [0x00100021, 'LO', 'Issuer of Patient ID'],
  [0x00100030, 'DA', 'Birth Date'],
  [0x00100032, 'TM', 'Birth Time'],
  [0x00101000, 'LO', 'Other Patient IDs'],
  [0x00101001, 'PN', 'Other Patient Names'],
  [0x00101005, 'PN', 'Birth Name'],
  [0x00101010, 'AS', 'Age'],
  [0x00101020, 'DS', 'Size'],
  [0x00101040, 'LO', 'Address'],
  [0x00101060, 'PN', 'Mother'],
  [0x00102154, 'SH', 'Telephone'],
  [0x00102160, 'SH', 'Ethnic Group'],
  [0x00102180, 'SH', 'Occupation'],
  [0x001021b0, 'LT', 'History'],
  [0x001021d0, 'DA', 'Last Menstrual Date'],
  [0x001021f0, 'LO', 'Religion'],
  [0x00102297, 'PN', 'Responsible Person'],
  [0x00104000, 'LT', 'Patient Comments'],
  [0x00120020, 'LO', 'Protocol ID'],
  [0x00180015, 'CS', 'Body Part'],
  [0x00181000, 'LO', 'Device Serial'],
  [0x00181002, 'UI', 'Device UID'],
  [0x00181008, 'LO', 'Gantry'],
  [0x00181020, 'LO', 'Software'],
  [0x00181030, 'LO', 'Protocol'],
  [0x00181200, 'DA', 'Calibration Date'],
  [0x00181400, 'LO', 'Processing'],
  [0x0020000d, 'UI', 'Study UID'],
  [0x0020000e, 'UI', 'Series UID'],
  [0x00200010, 'SH', 'Study ID'],
  [0x00200011, 'IS', 'Series Number'],
  [0x00200013, 'IS', 'Instance Number'],
  [0x00200052, 'UI', 'Frame of Reference UID'],
  [0x00204000, 'LT', 'Image Comments'],
  [0x00284000, 'LT', 'Pixel Comments'],
  [0x00321032, 'PN', 'Requesting Physician'],
  [0x00321060, 'LO', 'Procedure'],
  [0x00324000, 'LT', 'Study Comments'],
  [0x00380010, 'LO', 'Admission ID'],
  [0x00400244, 'DA', 'Step Start Date'],
  [0x00401400, 'LT', 'Requested Procedure Comments'],
  [0x0040a124, 'UI', 'UID'],
  [0x0040a123, 'PN', 'Person Name'],
  [0x0040a160, 'UT', 'Text Value'],
  [0x00880140, 'UI', 'Storage Media UID'],
  [0x00880910, 'LO', 'Topic Author'],
  [0x04000564, 'LO', 'Source of Previous Values'],
  [0x40000010, 'LT', 'Arbitrary'],
  [0x50000022, 'LO', 'Curve Description'],
];

function valueOf(plant: Plant, vr: string, place: string): string {
  const carrier = `${place} (${vr})`;
  if (vr === 'UI') return plant.uid(carrier);
  return ['AE', 'AS', 'CS', 'DS', 'IS', 'SH', 'TM', 'DA'].includes(vr)
    ? plant.short(carrier)
    : plant.word(carrier);
}

const textsOf = (plant: Plant, place: string, list = TEXTS): Planted[] =>
  list.map(([tag, vr, name]) => at(tag, vr, valueOf(plant, vr, `${place} ${name}`)));

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

const NESTED = TEXTS.filter(([tag]) =>
  [
    0x00080020, 0x0008002a, 0x00080030, 0x00080050, 0x00080054, 0x00080081, 0x00080119, 0x00081190,
    0x00100010, 0x00100020, 0x00101010, 0x00101020, 0x00104000, 0x00180015, 0x0020000d, 0x00200013,
    0x0040a160,
  ].includes(tag),
);

/** Three sequences deep, of given and of open length, and in the sequences of Original Attributes and the icon. */
function nested(plant: Plant): Planted[] {
  const deep = (place: string, open: boolean): Planted =>
    at(
      0x00400275,
      'SQ',
      [[at(0x00400008, 'SQ', [[at(0x00400440, 'SQ', [textsOf(plant, place, NESTED)], open)]], open)]],
      open,
    );
  return [
    deep('three deep', true),
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
        ...nestedBeside(plant),
      ),
      writing,
      withMeta(plant),
    );
  };
/** One sequence, for the layouts that the main object does not show. */
const nestedBeside = (plant: Plant): Planted[] => nested(plant).slice(0, 1);

/** A still of JPEG baseline within DICOM: its own segments, and what stands behind its end. */
async function encapsulated(plant: Plant): Promise<Buffer> {
  const { data, widthPx, heightPx } = rampPixels(8);
  const jpeg = await sharp(Buffer.from(data), { raw: { width: widthPx, height: heightPx, channels: 1 } })
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
  return codedFile(elements, '1.2.840.10008.1.2.4.50', [
    Buffer.concat([marked, plant.bytes('fragment, after the end')]),
  ]);
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
  { name: 'coded.dcm', make: encapsulated },
  {
    name: 'slice.dcm',
    view: 'cbct-slice',
    make: async (plant) =>
      fileOf(mine(slice(), ...textsOf(plant, 'slice').filter(({ tag }) => tag !== 0x00200052))),
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
