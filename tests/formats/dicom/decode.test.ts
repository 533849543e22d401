import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import type { Outcome } from '../../../src/core/outcome.js';
import { dicom } from '../../../src/formats/dicom/index.js';
import type { StoredPixels } from '../../../src/formats/format.js';
import {
  changed,
  HEIGHT,
  pixelElements,
  radiograph,
  rampPixels,
  signedPixels,
  WIDTH,
} from './copy/drawn-objects.js';
import { inFolder, run, withPeers } from './copy/peer-tools.js';
import { at, BIG, EXPLICIT, encode, fileOf, IMPLICIT, type Planted } from './copy/source-object.js';
import { codedFile, metaOf } from './given/coded-objects.js';
import { drawnFilm, drawnStill } from './given/drawn-samples.js';

const decode = (bytes: Uint8Array, frame?: number, pixelLimit = 1e8): Promise<Outcome<StoredPixels>> =>
  dicom.decode!(bytes, { pixelLimit, ...(frame === undefined ? {} : { frame }) });

async function samplesOf(bytes: Uint8Array, frame?: number): Promise<number[]> {
  const outcome = await decode(bytes, frame);
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome.reason));
  return Array.from(outcome.value.data);
}

/** How many samples differ; a length of another kind counts as all. */
const differing = (a: readonly number[], b: readonly number[]): number =>
  a.length === b.length ? a.filter((value, at) => value !== b[at]).length : Infinity;

/** The radiograph of the copy's tests with other pixels. */
const objectOf = (pixels: StoredPixels, bits: number, photometric = 'MONOCHROME2'): Planted[] => [
  ...radiograph().filter(({ tag }) => tag >>> 16 !== 0x0028 && tag < 0x7fe00000),
  ...pixelElements(pixels, bits, photometric),
];

describe('native pixels come out as they were stored', () => {
  const kinds = {
    '8 bits': [rampPixels(8), 8],
    '12 bits': [rampPixels(12), 12],
    '16 bits': [rampPixels(16), 16],
    'signed 12 bits': [signedPixels(12), 12],
    'signed 16 bits': [signedPixels(16), 16],
  } as const;
  for (const [name, [pixels, bits]] of Object.entries(kinds))
    test(`of ${name}, in every way of writing`, async () => {
      const elements = objectOf(pixels, bits);
      const deflated = Buffer.concat([
        metaOf('1.2.840.10008.1.2.1.99'),
        deflateRawSync(encode(elements, EXPLICIT)),
      ]);
      const big =
        bits === 8 ? elements.map((one) => (one.tag === 0x7fe00010 ? { ...one, vr: 'OB' } : one)) : elements;
      for (const file of [fileOf(elements, EXPLICIT), fileOf(elements, IMPLICIT), fileOf(big, BIG), deflated])
        expect(await samplesOf(file)).toEqual(Array.from(pixels.data));
    });

  test('with each colour in a plane of its own, and with luminance and differences (PS3.3, C.7.6.3.1.2)', async () => {
    const pixels = rampPixels(8, 3);
    const planes = [0, 1, 2].flatMap((plane) => Array.from(pixels.data).filter((_, at) => at % 3 === plane));
    const planar = changed(
      objectOf(pixels, 8, 'RGB'),
      at(0x00280006, 'US', [1]),
      at(0x7fe00010, 'OB', Uint8Array.from(planes)),
    );
    expect(await samplesOf(fileOf(planar))).toEqual(Array.from(pixels.data));
    // the matrix of C.7.6.3.1.2 for pure red is Y 76, CB 85, CR 255; for grey the differences are 128
    const colours = {
      'pure red': [
        [76, 85, 255],
        [254, 0, 0],
      ],
      grey: [
        [90, 128, 128],
        [90, 90, 90],
      ],
    } as const;
    for (const [stored, shown] of Object.values(colours)) {
      const full = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, at) => stored[at % 3]!);
      const half = Uint8Array.from(
        { length: WIDTH * HEIGHT * 2 },
        (_, at) => [stored[0], stored[0], stored[1], stored[2]][at % 4]!,
      );
      for (const [photometric, bytes] of [
        ['YBR_FULL', full],
        ['YBR_FULL_422', half],
      ] as const) {
        const elements = changed(objectOf(pixels, 8, photometric), at(0x7fe00010, 'OB', bytes));
        const samples = await samplesOf(fileOf(elements));
        expect(samples.slice(0, 3).map((value, at) => Math.abs(value - shown[at]!) <= 1)).toEqual([
          true,
          true,
          true,
        ]);
        expect(samples).toHaveLength(WIDTH * HEIGHT * 3);
      }
    }
  });

  test('without the bits above those stored, which old objects keep overlays in', async () => {
    const pixels = rampPixels(12);
    const marked = Array.from(pixels.data, (value) => value | 0x8000);
    const elements = changed(objectOf(pixels, 12), at(0x7fe00010, 'OW', marked));
    expect(await samplesOf(fileOf(elements))).toEqual(Array.from(pixels.data));
    const shifted = changed(
      objectOf(pixels, 12),
      at(0x00280102, 'US', [15]),
      at(
        0x7fe00010,
        'OW',
        Array.from(pixels.data, (value) => value << 4),
      ),
    );
    expect(await samplesOf(fileOf(shifted))).toEqual(Array.from(pixels.data));
  });
});

describe('coded pixels are those that other programs decode', () => {
  const film = drawnFilm();
  const still = drawnStill();
  const sources = {
    film12: fileOf(objectOf(film, 12)),
    film8: fileOf(
      objectOf({ ...film, data: Uint8Array.from(film.data, (v) => v >> 4), bitsPerChannel: 8 }, 8),
    ),
    film16: fileOf(objectOf({ ...film, data: Uint16Array.from(film.data, (v) => v * 16 + (v % 16)) }, 16)),
    still: fileOf(objectOf(still, 8, 'RGB')),
  };
  type Source = keyof typeof sources;

  /** Encoder, its options, a source, and the program that decodes again; `lossless` says that the source comes back. */
  const made: [
    syntax: string,
    encoder: string,
    options: string[],
    source: Source,
    decoder: string,
    lossless: boolean,
  ][] = [
    ['.5 RLE', 'dcmcrle', [], 'film12', 'dcmdrle', true],
    ['.5 RLE, colour', 'dcmcrle', [], 'still', 'dcmdrle', true],
    ['.50 baseline', 'dcmcjpeg', ['+eb'], 'film8', 'dcmdjpeg', false],
    ['.50 baseline, colour as differences', 'dcmcjpeg', ['+eb', '+cy', '+s4'], 'still', 'dcmdjpeg', false],
    ['.50 baseline, colour at half size', 'dcmcjpeg', ['+eb', '+cy', '+s2'], 'still', 'dcmdjpeg', false],
    ['.50 baseline, colour as it is', 'dcmcjpeg', ['+eb', '+cr'], 'still', 'dcmdjpeg', false],
    ['.51 extended of 12 bits', 'dcmcjpeg', ['+ee'], 'film12', 'dcmdjpeg', false],
    ['.57 lossless', 'dcmcjpeg', ['+el', '+sv', '4'], 'film12', 'dcmdjpeg', true],
    ['.57 lossless by another prediction', 'dcmcjpeg', ['+el', '+sv', '7'], 'film16', 'dcmdjpeg', true],
    ['.70 lossless', 'dcmcjpeg', ['+e1'], 'film12', 'dcmdjpeg', true],
    ['.70 lossless of 8 bits', 'dcmcjpeg', ['+e1'], 'film8', 'dcmdjpeg', true],
    ['.70 lossless, colour', 'dcmcjpeg', ['+e1'], 'still', 'dcmdjpeg', true],
    ['.80 JPEG-LS', 'dcmcjpls', ['+el'], 'film12', 'dcmdjpls', true],
    ['.80 JPEG-LS, colour by line', 'dcmcjpls', ['+el', '+il'], 'still', 'dcmdjpls', true],
    ['.80 JPEG-LS, colour by plane', 'dcmcjpls', ['+el', '+in'], 'still', 'dcmdjpls', true],
    ['.81 JPEG-LS, near', 'dcmcjpls', ['+en', '+md', '3'], 'film12', 'dcmdjpls', false],
  ];
  for (const [syntax, encoder, options, source, decoder, lossless] of made)
    withPeers(['dcmdump'], `1.2.840.10008.1.2[.4]${syntax}`, async () => {
      const [coded, plain] = inFolder({ 'in.dcm': sources[source] }, (folder) => {
        const [input, middle, output] = ['in.dcm', 'coded.dcm', 'out.dcm'].map((name) =>
          join(folder, name),
        ) as [string, string, string];
        const steps = [run(encoder, [...options, input, middle]), run(decoder, [middle, output])];
        expect(steps).toMatchObject([{ status: 0 }, { status: 0 }]);
        return [readFileSync(middle), readFileSync(output)];
      });
      const mine = await samplesOf(coded!);
      const theirs = await samplesOf(plain!);
      expect(differing(mine, theirs)).toBe(0);
      if (lossless) expect(differing(mine, await samplesOf(sources[source]))).toBe(0);
    });

  /** Pillow's OpenJPEG codes; pydicom's handler of it decodes. */
  const J2K = `
import sys, io, numpy, pydicom
from PIL import Image
from pydicom.encaps import encapsulate
source, target, lossy = sys.argv[1:4]
data = pydicom.dcmread(source)
array = data.pixel_array
image = Image.fromarray(array.astype('<u2'), 'I;16') if array.dtype.itemsize == 2 else Image.fromarray(array)
out = io.BytesIO()
more = dict(irreversible=True, quality_mode='rates', quality_layers=[8]) if lossy == 'yes' else dict(irreversible=False)
image.save(out, 'JPEG2000', no_jp2=True, **more)
data.PixelData = encapsulate([out.getvalue()])
data['PixelData'].is_undefined_length = True
data.file_meta.TransferSyntaxUID = '1.2.840.10008.1.2.4.91' if lossy == 'yes' else '1.2.840.10008.1.2.4.90'
if array.ndim == 3: data.PhotometricInterpretation = 'YBR_ICT' if lossy == 'yes' else 'YBR_RCT'
data.save_as(target + '.dcm')
again = pydicom.dcmread(target + '.dcm')
numpy.asarray(again.pixel_array).astype('<u2').tofile(target + '.raw')
`;
  for (const [source, lossy] of [
    ['film16', 'no'],
    ['film8', 'yes'],
    ['still', 'no'],
    ['still', 'yes'],
  ] as const)
    withPeers(
      ['pydicom'],
      `JPEG 2000 of ${source}, ${lossy === 'yes' ? 'with loss (.91)' : 'without loss (.90)'}`,
      async () => {
        const [coded, raw] = inFolder({ 'in.dcm': sources[source], 'j2k.py': Buffer.from(J2K) }, (folder) => {
          const target = join(folder, 'out');
          const { text, status } = run('/usr/bin/python3', [
            join(folder, 'j2k.py'),
            join(folder, 'in.dcm'),
            target,
            lossy,
          ]);
          expect([status, text.slice(-400)]).toEqual([0, '']);
          return [readFileSync(`${target}.dcm`), readFileSync(`${target}.raw`)];
        });
        const mine = await samplesOf(coded!);
        expect(mine).toEqual(Array.from({ length: mine.length }, (_, at) => raw!.readUInt16LE(2 * at)));
        if (lossy === 'no') expect(mine).toEqual(await samplesOf(sources[source]));
      },
    );

  test('HTJ2K, .201 and .203, by the encoder of the same library: the source comes back, and nothing when it is cut off', async () => {
    const { default: open } = (await import('@cornerstonejs/codec-openjph/wasmjs')) as unknown as {
      default: (options: object) => Promise<{ HTJ2KEncoder: new () => Encoder }>;
    };
    const { HTJ2KEncoder } = await open({});
    for (const [syntax, lossless] of [
      ['1.2.840.10008.1.2.4.201', true],
      ['1.2.840.10008.1.2.4.203', false],
    ] as const) {
      const encoder = new HTJ2KEncoder();
      encoder.setQuality(lossless, lossless ? 0 : 0.0001);
      const size = { width: film.widthPx, height: film.heightPx };
      encoder
        .getDecodedBuffer({
          ...size,
          bitsPerSample: 12,
          componentCount: 1,
          isSigned: false,
          isUsingColorTransform: false,
        })
        .set(new Uint8Array(film.data.buffer));
      encoder.encode();
      const coded = Buffer.from(encoder.getEncodedBuffer());
      const file = codedFile(objectOf(film, 12), syntax, [coded]);
      // JPEG 2000 draws what is missing as grey; the lengths of its parts tell (T.800, A.4.2)
      for (const end of [[], [0xff, 0xd9]])
        for (const part of [0.3, 0.6, 0.95]) {
          const cut = Buffer.concat([coded.subarray(0, Math.floor(coded.length * part)), Buffer.from(end)]);
          expect((await decode(codedFile(objectOf(film, 12), syntax, [cut]))).kind).toBe('held');
        }
      const worst = (await samplesOf(file))
        .map((value, at) => Math.abs(value - film.data[at]!))
        .reduce((a, b) => Math.max(a, b));
      expect(worst).toBeLessThanOrEqual(lossless ? 0 : 4);
    }
  });
});

interface Encoder {
  setQuality(lossless: boolean, step: number): void;
  getDecodedBuffer(frame: object): Uint8Array;
  encode(): void;
  getEncodedBuffer(): Uint8Array;
}
