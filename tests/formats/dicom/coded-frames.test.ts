import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Reason } from '../../../src/core/reasons.js';
import { dicom } from '../../../src/formats/dicom/index.js';
import { readDicom } from '../../../src/formats/dicom/read-dicom.js';
import { changed, pixelElements, radiograph, rampPixels, WIDTH } from './copy/drawn-objects.js';
import { inFolder, run, withPeers } from './copy/peer-tools.js';
import { at, fileOf, type Planted } from './copy/source-object.js';
import { codedFile } from './given/coded-objects.js';
import { drawnFilm } from './given/drawn-samples.js';

const JPEG_LS = '1.2.840.10008.1.2.4.80';
const JPEG_2000 = '1.2.840.10008.1.2.4.90';
const BASELINE = '1.2.840.10008.1.2.4.50';
const RLE = '1.2.840.10008.1.2.5';

const objectOf = (pixels = rampPixels(12), bits = 12): Planted[] => [
  ...radiograph().filter(({ tag }) => tag >>> 16 !== 0x0028 && tag < 0x7fe00000),
  ...pixelElements(pixels, bits, 'MONOCHROME2'),
];

async function resultOf(bytes: Uint8Array, frame?: number, pixelLimit = 1e8): Promise<Reason | number[]> {
  const outcome = await dicom.decode!(bytes, { pixelLimit, ...(frame === undefined ? {} : { frame }) });
  return outcome.kind === 'kept' ? Array.from(outcome.value.data) : outcome.reason;
}

const damaged = (what: RegExp) => ({ code: 'damaged', format: 'DICOM', what: expect.stringMatching(what) });
const unusual = (what: RegExp) => ({ code: 'unusual', format: 'DICOM', what: expect.stringMatching(what) });

/** SOI and a start of frame (T.81, B.2.2; T.87, C.2.2). */
const frameHeader = (marker: number, bits: number, high: number, wide: number, components = 1): Buffer => {
  const head = Buffer.from([0xff, 0xd8, 0xff, marker, 0, 8 + 3 * components, bits, 0, 0, 0, 0, components]);
  head.writeUInt16BE(high, 7);
  head.writeUInt16BE(wide, 9);
  return Buffer.concat([
    head,
    Buffer.alloc(3 * components),
    Buffer.from([0xff, 0xda, 0, 8, 1]),
    Buffer.from([0xff, 0xd9]),
  ]);
};

/** SOC and SIZ (T.800, A.5.1). */
function sizeHeader(wide: number, high: number, depth: number, tile = [wide, high]): Buffer {
  const head = Buffer.alloc(45);
  head.writeUInt32BE(0xff4fff51);
  head.writeUInt16BE(41, 4);
  [wide, high, 0, 0, ...tile, 0, 0].forEach((value, place) => void head.writeUInt32BE(value, 8 + 4 * place));
  head.writeUInt16BE(1, 40);
  head.set([depth, 1, 1], 42);
  return Buffer.concat([head, Buffer.from([0xff, 0xd9])]);
}

describe('a coded frame is not decoded', () => {
  test('when its own header has another size: 65,500 pixels a side would fill the memory', async () => {
    const files = [
      codedFile(objectOf(), JPEG_LS, [frameHeader(0xf7, 12, 65_500, 65_500)]),
      codedFile(objectOf(), BASELINE, [frameHeader(0xc0, 8, 65_500, 65_500)]),
      codedFile(objectOf(), JPEG_2000, [sizeHeader(65_500, 65_500, 11)]),
    ];
    for (const file of files) expect(await resultOf(file)).toEqual(damaged(/another size/));
  });

  test('when the object itself claims 65,500 pixels a side', async () => {
    const huge = changed(objectOf(), at(0x00280010, 'US', [65_500]), at(0x00280011, 'US', [65_500]));
    expect(await resultOf(fileOf(huge))).toEqual({
      code: 'too-many-pixels',
      megapixels: 4290,
      limitMegapixels: 100,
    });
    expect(dicom.survey(fileOf(huge))).toMatchObject({ kind: 'held', reason: { code: 'too-many-pixels' } });
  });

  test('when it has other colours, bits or coding than the object says, or tiles without number', async () => {
    const [wide, high] = [WIDTH, 16];
    const cases = [
      [codedFile(objectOf(), JPEG_LS, [frameHeader(0xf7, 12, high, wide, 3)]), damaged(/colours/)],
      [codedFile(objectOf(), JPEG_LS, [frameHeader(0xf7, 8, high, wide)]), damaged(/depth/)],
      [codedFile(objectOf(), JPEG_LS, [frameHeader(0xc0, 12, high, wide)]), unusual(/another way/)],
      [codedFile(objectOf(), BASELINE, [Buffer.from('not a picture at all')]), damaged(/begin/)],
      [
        codedFile(objectOf(), JPEG_2000, [Buffer.from('\0\0\0\x0cjP  \r\n\x87\n', 'latin1')]),
        unusual(/begin/),
      ],
      [codedFile(objectOf(), JPEG_2000, [sizeHeader(wide, high, 11, [0, 1])]), unusual(/parts/)],
      [codedFile(objectOf(), JPEG_2000, [sizeHeader(wide, high, 11)]), damaged(/./)],
    ] as const;
    for (const [file, reason] of cases) expect(await resultOf(file)).toEqual(reason);
  });

  test('when the object contradicts itself', async () => {
    const cases: [Planted[], object][] = [
      [changed(objectOf(), { tag: 0x00280010, value: null }), damaged(/not given/)],
      [changed(objectOf(), at(0x00280101, 'US', [17])), damaged(/bits/)],
      [changed(objectOf(), at(0x00280100, 'US', [32])), unusual(/checked/)],
      [changed(objectOf(), at(0x00280002, 'US', [4])), unusual(/colour/)],
      [changed(objectOf(), at(0x00280004, 'CS', 'HSV')), unusual(/colour/)],
      [changed(objectOf(), at(0x00280008, 'IS', '0')), damaged(/frames/)],
      [changed(objectOf(), at(0x7fe00010, 'OW', [1, 2, 3])), damaged(/missing/)],
      [
        changed(
          objectOf(),
          at(
            0x7fe00010,
            'OW',
            Array.from({ length: 1000 }, () => 1),
          ),
        ),
        damaged(/more picture data/),
      ],
    ];
    for (const [elements, reason] of cases) expect(await resultOf(fileOf(elements))).toEqual(reason);
  });

  test('when run lengths make fewer pixels than there are; what stands behind them is left out', async () => {
    const header = Buffer.alloc(64);
    header.writeUInt32LE(2, 0);
    header.writeUInt32LE(64, 4);
    const segment = (runs: number): Buffer =>
      Buffer.from(Array.from({ length: runs }, () => [129, 7]).flat());
    // 384 pixels are three runs of 128 in each of two segments
    for (const [first, second, whole] of [
      [3, 3, true],
      [3, 2, false],
      [4, 3, true],
      [0, 3, false],
    ] as const) {
      header.writeUInt32LE(64 + 2 * first, 8);
      const coded = Buffer.concat([header, segment(first), segment(second)]);
      const result = await resultOf(codedFile(objectOf(rampPixels(16), 16), RLE, [coded]));
      expect([first, second, Array.isArray(result)]).toEqual([first, second, whole]);
      if (Array.isArray(result)) expect(new Set(result)).toEqual(new Set([0x0707]));
    }
  });
});

describe('of several frames', () => {
  const pixels = rampPixels(8);
  const three = Uint8Array.from({ length: 3 * pixels.data.length }, (_, at) =>
    Math.floor(at / pixels.data.length),
  );
  const native = fileOf(changed(objectOf(pixels, 8), at(0x00280008, 'IS', '3'), at(0x7fe00010, 'OW', three)));
  const constant = (value: number) => new Array<number>(pixels.data.length).fill(value);

  test('the one that is named comes out, and none when none is named or it is not there', async () => {
    expect(await resultOf(native, 2)).toEqual(constant(1));
    expect(await resultOf(native)).toEqual({ code: 'several-frames', frames: 3 });
    for (const frame of [0, 4, 1.5])
      expect(await resultOf(native, frame)).toEqual({ code: 'frame-absent', frame, frames: 3 });
    expect(await resultOf(fileOf(objectOf()), 2)).toEqual({ code: 'frame-absent', frame: 2, frames: 1 });
  });

  test('coded ones are told by their number or by the offset table, or not at all', async () => {
    const elements = changed(objectOf(pixels, 8), at(0x00280008, 'IS', '2'));
    const coded = (value: number): Buffer => {
      const header = Buffer.alloc(64);
      header.writeUInt32LE(1, 0);
      header.writeUInt32LE(64, 4);
      return Buffer.concat([header, Buffer.from([129, value, 129, value, 129, value])]);
    };
    const [one, two] = [coded(1), coded(2)];
    const halves = [one.subarray(0, 66), one.subarray(66), two.subarray(0, 68), two.subarray(68)];
    for (const file of [codedFile(elements, RLE, [one, two]), codedFile(elements, RLE, halves, [0, 2])]) {
      expect(await resultOf(file, 1)).toEqual(constant(1));
      expect(await resultOf(file, 2)).toEqual(constant(2));
    }
    for (const starts of [[], [1, 2], [0], [2, 0]])
      expect(await resultOf(codedFile(elements, RLE, halves, starts), 1)).toEqual(unusual(/told apart/));
  });
});

describe('a picture that is cut off is held', () => {
  const film = drawnFilm();
  const [film12, film8] = [
    fileOf(objectOf(film, 12)),
    fileOf(objectOf({ ...film, data: Uint8Array.from(film.data, (v) => v >> 4), bitsPerChannel: 8 }, 8)),
  ];
  const encoders = [
    ['dcmcrle', [], film12],
    ['dcmcjpeg', ['+eb'], film8],
    ['dcmcjpeg', ['+ee'], film12],
    ['dcmcjpeg', ['+e1'], film12],
    ['dcmcjpls', ['+el'], film12],
  ] as const;
  for (const [encoder, options, source] of encoders)
    withPeers(
      ['dcmdump'],
      `${encoder} ${options.join(' ')}: at any of four places, closed by an end mark or not`,
      async () => {
        const file = inFolder({ 'in.dcm': source }, (folder) => {
          run(encoder, [...options, join(folder, 'in.dcm'), join(folder, 'out.dcm')]);
          return readFileSync(join(folder, 'out.dcm'));
        });
        expect(Array.isArray(await resultOf(file))).toBe(true);
        const read = readDicom(file);
        const coded = read.kind === 'kept' ? read.value.elements.at(-1)?.fragments?.[1] : undefined;
        const whole =
          read.kind === 'kept' ? read.value.bytes.subarray(coded!.at, coded!.at + coded!.length) : file;
        const syntax = read.kind === 'kept' ? read.value.transferSyntax : '';
        const elements = source === film8 ? objectOf({ ...film, bitsPerChannel: 8 }, 8) : objectOf(film, 12);
        for (let part = 4; part < 16; part += 3)
          for (const end of [[], [0xff, 0xd9]]) {
            const cut = Buffer.concat([
              whole.subarray(0, Math.floor((whole.length * part) / 16)),
              Buffer.from(end),
            ]);
            expect([part, end, Array.isArray(await resultOf(codedFile(elements, syntax, [cut])))]).toEqual([
              part,
              end,
              false,
            ]);
          }
      },
    );
});
