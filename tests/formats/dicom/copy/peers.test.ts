import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect } from 'vitest';
import { COVER_GREY } from '../../../../src/core/cover-grey.js';
import { paintCopy } from '../../../../src/formats/dicom/copy/index.js';
import type { StoredPixels } from '../../../../src/formats/format.js';
import { copyOf, keptOf } from './copies.js';
import {
  CLASS,
  changed,
  pixelElements,
  radiograph,
  rampPixels,
  signedPixels,
  slice,
  still,
} from './drawn-objects.js';
import { inFolder, run, runEach, withPeers } from './peer-tools.js';
import { at, BIG, fileOf, IMPLICIT, type Planted, type Writing } from './source-object.js';

interface Case {
  elements: Planted[];
  pixels: StoredPixels;
  writing?: Writing;
  /** How dciodvfy calls the class of the copy. */
  iod: string;
}

const eight = rampPixels(8);
const palette = (tag: number, data: number[]): Planted[] => [
  at(tag, 'US', [4, 0, 16]),
  at(tag + 0x100, 'OW', data),
];
const fewColours: StoredPixels = { ...eight, data: eight.data.map((_, index) => index % 4) as Uint8Array };

/** Every class a copy can be of, and every way its pixels can be. */
const CASES: Record<string, Case> = {
  'intra-oral': { elements: radiograph(), pixels: rampPixels(12), iod: 'IntraoralImageForPresentation' },
  'intra-oral, implicit': {
    ...{ elements: radiograph(), pixels: rampPixels(12), iod: 'IntraoralImageForPresentation' },
    writing: IMPLICIT,
  },
  'intra-oral, big endian': {
    ...{ elements: radiograph(), pixels: rampPixels(12), iod: 'IntraoralImageForPresentation' },
    writing: BIG,
  },
  'intra-oral of 8 bits, dark is high': {
    elements: changed(
      radiograph(CLASS.intraOral, 'IO', eight, 8),
      at(0x00280004, 'CS', 'MONOCHROME1'),
      at(0x20500020, 'CS', 'INVERSE'),
      at(0x00281050, 'DS', '128'),
      at(0x00281051, 'DS', '256'),
    ),
    pixels: eight,
    iod: 'IntraoralImageForPresentation',
  },
  'intra-oral for processing': {
    elements: changed(
      radiograph(CLASS.intraOralProcessing),
      { tag: 0x00281050, value: null },
      { tag: 0x00281051, value: null },
    ),
    pixels: rampPixels(12),
    iod: 'IntraoralImageForProcessing',
  },
  'digital X-ray': {
    elements: radiograph(CLASS.digital, 'PX'),
    pixels: rampPixels(12),
    iod: 'DXImageForPresentation',
  },
  'computed radiography': {
    elements: radiograph(CLASS.computed, 'CR'),
    pixels: rampPixels(12),
    iod: 'CRImage',
  },
  slice: { elements: slice(), pixels: signedPixels(12), iod: 'CTImage' },
  'slice of an enhanced object': {
    elements: slice(CLASS.enhancedSlice),
    pixels: signedPixels(12),
    iod: 'SCImage',
  },
  capture: { elements: still(CLASS.capture, 'OT'), pixels: rampPixels(8, 3), iod: 'SCImage' },
  'microscope still': { elements: still(), pixels: rampPixels(8, 3), iod: 'VLMicroscopicImage' },
  'microscope still whose past is not known': {
    elements: changed(
      still(),
      ...[0x00282110, 0x00282112, 0x00282114].map((tag) => ({ tag, value: null }) as const),
    ),
    pixels: rampPixels(8, 3),
    iod: 'VLMicroscopicImage',
  },
  photograph: {
    elements: still(CLASS.photograph, 'XC'),
    pixels: rampPixels(8, 3),
    iod: 'VLPhotographicImage',
  },
  'palette colour': {
    elements: [
      ...changed(still(CLASS.capture, 'OT'), ...pixelElements(fewColours, 8, 'PALETTE COLOR'), {
        tag: 0x00280006,
        value: null,
      }),
      ...palette(0x00281101, [0, 0x4000, 0xa0a0, 0xffff]),
      ...palette(0x00281102, [0, 0x2000, 0xa0a0, 0xffff]),
      ...palette(0x00281103, [0, 0x9000, 0xa0a0, 0xffff]),
    ],
    pixels: fewColours,
    iod: 'SCImage',
  },
  'a table for values of interest': {
    elements: changed(
      radiograph(CLASS.computed, 'CR', eight, 8),
      { tag: 0x00281050, value: null },
      { tag: 0x00281051, value: null },
      at(0x00283010, 'SQ', [
        [
          at(0x00283002, 'US', [256, 0, 16]),
          at(0x00283003, 'LO', 'curve of Ottoline'),
          at(
            0x00283006,
            'US',
            Array.from({ length: 256 }, (_, index) => Math.round((index * index * 65_535) / 65_025)),
          ),
        ],
      ]),
    ),
    pixels: eight,
    iod: 'CRImage',
  },
};

/** The same objects with their pixels, their class, and little more. */
const LEAST = new Set([
  ...[
    0x00080008, 0x00080016, 0x00080018, 0x00080060, 0x0020000d, 0x0020000e, 0x00181164, 0x00200020,
    0x00281040,
  ],
  ...[0x00200032, 0x00200037, 0x00200052, 0x00280030, 0x00281052, 0x00281053],
]);
const stays = (tag: number): boolean =>
  LEAST.has(tag) || (tag >= 0x00280002 && tag <= 0x00280103) || tag >>> 8 === 0x002812 || tag === 0x7fe00010;
const isPalette = (tag: number): boolean => tag >= 0x00281101 && tag <= 0x00281103;
const BARE = Object.values(CASES).map((one) => ({
  ...one,
  elements: one.elements.filter(({ tag }) => stays(tag) || isPalette(tag)),
}));

const sourceOf = ({ elements, writing }: Case): Buffer => fileOf(elements, writing);
const named = (make: (one: Case) => Uint8Array, ending: string): Record<string, Uint8Array> =>
  Object.fromEntries(Object.values(CASES).map((one, index) => [`${index}${ending}.dcm`, make(one)]));
const plain = (one: Case): Buffer => copyOf(sourceOf(one), one.pixels);
const painted = (one: Case): Uint8Array => keptOf(paintCopy(plain(one), [[3, 2, 7, 5]], true));
const all = Object.values(CASES);

describe('copies, as readers from outside see them', () => {
  withPeers(['dciodvfy'], 'have no error by the rules of their class', () => {
    for (const make of [plain, painted])
      inFolder(named(make, ''), (folder) => {
        const told = runEach(
          'dciodvfy "$name"',
          folder,
          all.map((_, index) => `${index}.dcm`),
        );
        expect(told.map((text, index) => text.split('\n').includes(all[index]?.iod ?? ''))).toEqual(
          all.map(() => true),
        );
        expect(told.flatMap(errorsIn)).toEqual([]);
      });
  });

  withPeers(['dciodvfy'], 'have none either when their sources say less than the class asks', () => {
    const files = Object.fromEntries(BARE.map((one, index) => [`${index}.dcm`, plain(one)]));
    inFolder(files, (folder) => {
      const told = runEach('dciodvfy "$name"', folder, Object.keys(files));
      expect(told.filter((text) => /^(SC|CR|CT|VL)\w*Image$/m.test(text))).toHaveLength(BARE.length);
      expect(told.flatMap(errorsIn)).toEqual([]);
    });
  });

  withPeers(['dcmdump', 'dcmftest'], 'are whole files without a warning', () => {
    for (const make of [plain, painted])
      inFolder(named(make, ''), (folder) => {
        const paths = all.map((_, index) => join(folder, `${index}.dcm`));
        const { text } = run('dcmftest', paths);
        expect(
          text
            .trim()
            .split('\n')
            .map((line) => line.split(':')[0]),
        ).toEqual(all.map(() => 'yes'));
        const dump = run('dcmdump', paths);
        expect(dump.status).toBe(0);
        expect(dump.text.match(/Used TransferSyntax: Little Endian Explicit/g)).toHaveLength(2 * all.length);
        expect(dump.text).not.toMatch(/^[WEF]: /m);
      });
  });

  withPeers(['dcm2pnm'], 'render to the same picture as their sources', () => {
    const sources = drawnBy(sourceOf);
    const copies = drawnBy(plain);
    copies.forEach(({ pixels }, index) => {
      expect(new Set(pixels).size).toBeGreaterThan(3);
      expect(pixels.equals(sources[index]?.pixels as Buffer)).toBe(true);
    });
    expect(copies).toHaveLength(all.length);
  });

  withPeers(['pydicom'], 'give pydicom the samples and the attributes that were meant', () => {
    const program = `
import sys, json, pydicom
out = []
for path in sys.argv[1:]:
    d = pydicom.dcmread(path)
    out.append({
        'pixels': d.pixel_array.ravel().tolist(),
        'syntax': d.file_meta.TransferSyntaxUID,
        'instance': d.file_meta.MediaStorageSOPInstanceUID == d.SOPInstanceUID,
        'class': d.file_meta.MediaStorageSOPClassUID == d.SOPClassUID,
        'preamble': any(d.preamble),
        'removed': d.PatientIdentityRemoved,
        'codes': [c.CodeValue for c in d.DeidentificationMethodCodeSequence],
        'times': d.LongitudinalTemporalInformationModified,
        'name': str(d.PatientName),
        'charset': 'SpecificCharacterSet' in d,
        'source': 'SourceApplicationEntityTitle' in d.file_meta,
        'words': [e.keyword for e in d.iterall() if e.VR in ('DA', 'DT', 'TM', 'PN', 'AE') and e.value],
    })
print(json.dumps(out))`;
    inFolder(named(plain, ''), (folder) => {
      const paths = all.map((_, index) => join(folder, `${index}.dcm`));
      const { text, status } = run('/usr/bin/python3', ['-W', 'ignore', '-c', program, ...paths]);
      expect(status).toBe(0);
      const read = JSON.parse(text) as Record<string, unknown>[];
      read.forEach((one, index) => {
        expect(one['pixels']).toEqual(Array.from((all[index] as Case).pixels.data));
        expect({ ...one, pixels: null }).toEqual({
          pixels: null,
          ...{ syntax: '1.2.840.10008.1.2.1', instance: true, class: true, preamble: false, source: false },
          ...{ removed: 'YES', codes: ['113100'], times: 'REMOVED', name: '', charset: false, words: [] },
        });
      });
      expect(read).toHaveLength(all.length);
    });
  });

  withPeers(['dcm2pnm'], 'show a cover as the flat grey of the display picture', () => {
    for (const { channels, pixels, widthPx } of drawnBy(painted)) {
      const shades = new Set<number>();
      for (let row = 2; row < 7; row++)
        for (const shade of pixels.subarray((row * widthPx + 3) * channels, (row * widthPx + 10) * channels))
          shades.add(shade);
      expect(shades.size).toBe(1);
      expect(Math.abs(([...shades][0] as number) - COVER_GREY)).toBeLessThanOrEqual(1);
    }
  });
});

const errorsIn = (text: string): string[] => text.split('\n').filter((line) => /^(Error|Abort)/.test(line));

/** How dcm2pnm is to show an object: colour as it is, grey by its window, its table, or the range of its values. */
function showing({ elements }: Case): string {
  if (elements.some(({ value }) => value === 'RGB' || value === 'PALETTE COLOR')) return '';
  if (elements.some(({ tag }) => tag === 0x00281050)) return '+Wi 1';
  return elements.some(({ tag }) => tag === 0x00283010) ? '+Wl 1' : '+Wm';
}

/** What dcm2pnm draws of each case. */
function drawnBy(make: (one: Case) => Uint8Array): ReturnType<typeof readPnm>[] {
  const ways = [...new Set(all.map(showing))];
  return inFolder(named(make, ''), (folder) => {
    const names = (way: string): string[] =>
      all.flatMap((one, index) => (showing(one) === way ? [`${index}.dcm`] : []));
    const told = ways.flatMap((way) => runEach(`dcm2pnm ${way} +op "$name" "$name.pnm"`, folder, names(way)));
    expect(told.join('')).toBe('');
    return all.map((_, index) => readPnm(readFileSync(join(folder, `${index}.dcm.pnm`))));
  });
}

/** A raw PGM or PPM of 8 bits (netpbm). */
function readPnm(bytes: Buffer): { channels: 1 | 3; widthPx: number; pixels: Buffer } {
  const head = /^P([56])\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 64).toString('latin1'));
  if (!head) throw new Error('no picture');
  return {
    channels: head[1] === '5' ? 1 : 3,
    widthPx: Number(head[2]),
    pixels: bytes.subarray(head[0].length),
  };
}
