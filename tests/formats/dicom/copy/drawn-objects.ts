import type { StoredPixels } from '../../../../src/formats/format.js';
import { at, type Planted } from './source-object.js';

const STORAGE = '1.2.840.10008.5.1.4.1.1';
export const CLASS = {
  intraOral: `${STORAGE}.1.3`,
  intraOralProcessing: `${STORAGE}.1.3.1`,
  digital: `${STORAGE}.1.1`,
  computed: `${STORAGE}.1`,
  slice: `${STORAGE}.2`,
  enhancedSlice: `${STORAGE}.2.1`,
  capture: `${STORAGE}.7`,
  microscope: `${STORAGE}.77.1.2`,
  photograph: `${STORAGE}.77.1.4`,
} as const;

export const WIDTH = 24;
export const HEIGHT = 16;

/** A ramp over the whole range of `bits`, a value for each pixel and channel. */
export function rampPixels(bits: number, channels: 1 | 3 = 1): StoredPixels {
  const count = WIDTH * HEIGHT * channels;
  const most = 2 ** bits - 1;
  const values = Array.from({ length: count }, (_, index) => Math.round((index * most) / (count - 1)));
  const data = bits > 8 ? Uint16Array.from(values) : Uint8Array.from(values);
  return { data, widthPx: WIDTH, heightPx: HEIGHT, channels, bitsPerChannel: bits > 8 ? 16 : 8 };
}

export const signedPixels = (bits: number): StoredPixels => {
  const { data, ...size } = rampPixels(bits);
  return { ...size, bitsPerChannel: 16, data: Int16Array.from(data, (value) => value - 2 ** (bits - 1)) };
};

export function pixelElements(pixels: StoredPixels, bitsStored: number, photometric: string): Planted[] {
  const { data, channels, widthPx, heightPx, bitsPerChannel } = pixels;
  return [
    at(0x00280002, 'US', [channels]),
    at(0x00280004, 'CS', photometric),
    ...(channels === 3 ? [at(0x00280006, 'US', [0])] : []),
    at(0x00280010, 'US', [heightPx]),
    at(0x00280011, 'US', [widthPx]),
    at(0x00280100, 'US', [bitsPerChannel]),
    at(0x00280101, 'US', [bitsStored]),
    at(0x00280102, 'US', [bitsStored - 1]),
    at(0x00280103, 'US', [data instanceof Int16Array ? 1 : 0]),
    at(0x7fe00010, 'OW', bitsPerChannel === 8 ? Uint8Array.from(data) : Array.from(data)),
  ];
}

/** Names and numbers of an invented person, each unlike any other word of a file. */
export const identity = (): Planted[] => [
  at(0x00080005, 'CS', 'ISO_IR 192'),
  at(0x00080018, 'UI', '1.2.3.4.5.6'),
  at(0x00080020, 'DA', '20260211'),
  at(0x00080030, 'TM', '094103'),
  at(0x00080050, 'SH', 'ACC-77120'),
  at(0x00080080, 'LO', 'Clinic Quillfeather'),
  at(0x00080090, 'PN', 'Referrer^Ottoline'),
  at(0x00081030, 'LO', 'Check of Testcase, Rowan'),
  at(0x00100010, 'PN', 'Testcase^Rowän'),
  at(0x00100020, 'LO', 'A-20417'),
  at(0x00100030, 'DA', '19840602'),
  at(0x00100040, 'CS', 'F'),
  at(0x0020000d, 'UI', '1.2.3.4.5.1'),
  at(0x0020000e, 'UI', '1.2.3.4.5.2'),
  at(0x00200010, 'SH', 'ST-5512'),
  at(0x00200011, 'IS', '7'),
  at(0x00200013, 'IS', '412'),
];

export const codeOf = (
  tag: number,
  code: string,
  scheme: string,
  meaning: string,
  more: Planted[] = [],
): Planted =>
  at(tag, 'SQ', [
    [at(0x00080100, 'SH', code), at(0x00080102, 'SH', scheme), at(0x00080104, 'LO', meaning), ...more],
  ]);

/** A complete radiograph of one tooth, of the class named. */
export function radiograph(
  sopClass: string = CLASS.intraOral,
  modality = 'IO',
  pixels = rampPixels(12),
  bits = 12,
): Planted[] {
  return [
    ...identity(),
    ...pixelElements(pixels, bits, 'MONOCHROME2'),
    at(0x00080008, 'CS', 'ORIGINAL\\PRIMARY\\'),
    at(0x00080016, 'UI', sopClass),
    at(0x00080060, 'CS', modality),
    at(0x00080068, 'CS', 'FOR PRESENTATION'),
    codeOf(0x00082218, '661005', 'SCT', 'Jaw region of Rowan'),
    codeOf(0x00082228, '865995000', 'SCT', 'Sixteen of Rowan'),
    at(0x00181114, 'DS', '1.05'),
    at(0x00181164, 'DS', '0.02\\0.02'),
    at(0x00200020, 'CS', 'L\\F'),
    at(0x00200062, 'CS', 'R'),
    at(0x00280030, 'DS', '0.019\\0.019'),
    at(0x00280a02, 'CS', 'FIDUCIAL'),
    at(0x00280a04, 'LO', 'measured by Ottoline'),
    at(0x00281040, 'CS', 'LIN'),
    at(0x00281041, 'SS', [-1]),
    at(0x00281050, 'DS', '2048'),
    at(0x00281051, 'DS', '4096'),
    at(0x00281055, 'LO', 'as Ottoline likes it'),
    at(0x00281052, 'DS', '0'),
    at(0x00281053, 'DS', '1'),
    at(0x00281054, 'LO', 'US'),
    at(0x00282110, 'CS', '00'),
    at(0x00280301, 'CS', 'NO'),
    at(0x20500020, 'CS', 'IDENTITY'),
  ];
}

/** One slice of a scan. */
export function slice(sopClass: string = CLASS.slice, pixels = signedPixels(12)): Planted[] {
  return [
    ...identity(),
    ...pixelElements(pixels, 12, 'MONOCHROME2'),
    at(0x00080008, 'CS', 'ORIGINAL\\PRIMARY\\AXIAL\\ROWAN'),
    at(0x00080016, 'UI', sopClass),
    at(0x00080060, 'CS', 'CT'),
    at(0x00180050, 'DS', '0.15'),
    at(0x00180060, 'DS', '90'),
    at(0x00200032, 'DS', '-12.5\\3\\40.25'),
    at(0x00200037, 'DS', '1\\0\\0\\0\\1\\0'),
    at(0x00200052, 'UI', '1.2.3.4.5.3'),
    at(0x00280030, 'DS', '0.15\\0.15'),
    at(0x00281050, 'DS', '400\\40'),
    at(0x00281051, 'DS', '2000\\400'),
    at(0x00281052, 'DS', '-1000'),
    at(0x00281053, 'DS', '1'),
    at(0x00281054, 'LO', 'HU'),
  ];
}

/** A colour still, of the class named. */
export function still(sopClass: string = CLASS.microscope, modality = 'GM'): Planted[] {
  return [
    ...identity(),
    ...pixelElements(rampPixels(8, 3), 8, 'RGB'),
    at(0x00080008, 'CS', 'ORIGINAL\\PRIMARY'),
    at(0x00080016, 'UI', sopClass),
    at(0x00080060, 'CS', modality),
    at(0x00282110, 'CS', '01'),
    at(0x00282112, 'DS', '12.5'),
    at(0x00282114, 'CS', 'ISO_10918_1'),
  ];
}

/** The elements with some replaced, added (`null` value: removed). */
export function changed(
  elements: readonly Planted[],
  ...changes: (Planted | { tag: number; value: null })[]
): Planted[] {
  const tags = new Set(changes.map(({ tag }) => tag));
  return [
    ...elements.filter(({ tag }) => !tags.has(tag)),
    ...changes.filter((change): change is Planted => change.value !== null),
  ];
}
