import { describe, expect, test } from 'vitest';
import { sentenceOf } from '../../src/core/reason-sentence.js';
import { heic } from '../../src/formats/heic/index.js';
import * as H from '../fixtures/heic-pieces.js';

const codeOf = async (bytes: Buffer): Promise<string> => {
  const [surveyed, stripped] = [heic.survey(bytes), await heic.strip(bytes)];
  // What strip holds must be found by survey already, unless only decoding can tell.
  if (stripped.kind !== 'held') return stripped.kind;
  expect(sentenceOf(stripped.reason)).not.toContain('undefined');
  return surveyed.kind === 'held' ? surveyed.reason.code : `${stripped.reason.code}, on decoding`;
};
const whole = H.codedItem();
const withProperties = (...properties: Buffer[]) =>
  H.makeHeic([H.codedItem({ properties: [H.codingBox, ...properties] })]);
const size = H.ispe(H.DRAWN_WIDTH_PX, H.DRAWN_HEIGHT_PX);

describe('a HEIC is held', () => {
  test.each<[string, Buffer, string]>([
    ['told to be larger than the limit', withProperties(H.ispe(20_000, 20_000)), 'too-many-pixels'],
    ['told to be larger than it is', withProperties(H.ispe(256, 96)), 'damaged, on decoding'],
    ['told to be smaller than it is', withProperties(H.ispe(64, 48)), 'damaged, on decoding'],
    ['of no size', withProperties(H.ispe(0, 96)), 'damaged'],
    ['without a size', withProperties(), 'damaged'],
    ['without its coding', H.makeHeic([H.codedItem({ properties: [size] })]), 'damaged'],
    ['coded as AVIF', H.makeHeic([{ ...whole, type: 'av01' }], { brand: 'avif' }), 'unusual'],
    ['coded as JPEG', H.makeHeic([{ ...whole, type: 'jpeg' }]), 'unusual'],
    ['for bright displays', withProperties(size, H.nclx(9, 16)), 'unusual'],
    [
      'cropped by parts of a pixel',
      withProperties(size, H.box('clap', H.u(4, 201, 2, 96, 1, 0, 1, 0, 1))),
      'unusual',
    ],
    ['whose main picture is absent', H.makeHeic([whole], { primary: 2 }), 'damaged'],
    ['that only moves', movingOnly(), 'unusual'],
    ['with transparent parts', withAlpha(), 'unusual'],
    [
      'whose picture lies outside',
      H.makeHeic([whole], { place: (at, length) => [at, length + 9] }),
      'damaged',
    ],
    [
      'whose picture begins late',
      H.makeHeic([whole], { place: (at, length) => [at + 1, length - 1] }),
      'damaged',
    ],
    ['whose picture ends early', H.makeHeic([whole], { place: (at, length) => [at, length - 1] }), 'damaged'],
    ['whose picture is empty', H.makeHeic([{ ...whole, data: Buffer.alloc(0) }]), 'damaged'],
  ])('%s', async (_, file, code) => {
    expect(await codeOf(file)).toBe(code);
  });

  test('at every cut, and never throws', async () => {
    const outcomes: string[] = [];
    for (let cut = 0; cut < H.drawnHeic.length; cut++) {
      const file = H.drawnHeic.subarray(0, cut);
      outcomes.push((await heic.strip(file)).kind, heic.survey(file).kind);
    }
    expect(new Set(outcomes)).toEqual(new Set(['held']));
  });

  test('when a coded picture lies about its size to the decoder alone', async () => {
    // Width of the sequence parameter set (ITU-T H.265, 7.3.2.2) made larger than the box around it says.
    const coding = Buffer.from(H.codingBox);
    const sps = coding.indexOf(Buffer.from([0x42, 0x01]));
    expect(sps).toBeGreaterThan(0);
    for (let at = sps + 2; at < Math.min(sps + 40, coding.length); at++) {
      const changed = Buffer.from(coding);
      changed[at] = changed[at]! ^ 0x55;
      const outcome = await heic.strip(H.makeHeic([H.codedItem({ properties: [changed, size] })]));
      expect(['kept', 'held']).toContain(outcome.kind);
    }
  });
});

describe('a picture in tiles', () => {
  const [width, height] = [H.DRAWN_WIDTH_PX, H.DRAWN_HEIGHT_PX];
  const grid = (rows: number, columns: number, widthPx: number, heightPx: number, tiles: number): Buffer =>
    H.makeHeic([
      {
        type: 'grid',
        data: Buffer.concat([H.u(1, 0, 0, rows - 1, columns - 1), H.u(2, widthPx, heightPx)]),
        properties: [H.ispe(widthPx, heightPx)],
        refers: ['dimg', ...Array.from({ length: tiles }, (_, index) => index + 2)],
      },
      ...Array.from({ length: tiles }, () => H.codedItem({ hidden: true })),
    ]);

  test('is put together, its surplus at the right and below cut off', async () => {
    const file = grid(2, 2, 2 * width - 5, 2 * height - 3, 4);
    expect(heic.survey(file)).toMatchObject({
      kind: 'kept',
      value: { widthPx: 2 * width - 5, heightPx: 2 * height - 3, notes: [] },
    });
    const decoded = await heic.decode!(file, { pixelLimit: 1e8 });
    const single = await heic.decode!(H.drawnHeic, { pixelLimit: 1e8 });
    if (decoded.kind !== 'kept' || single.kind !== 'kept') throw new Error('held');
    const row = (pixels: Uint8Array, y: number, stride: number, from: number, count: number) =>
      Buffer.from(pixels.subarray(3 * (y * stride + from), 3 * (y * stride + from + count)));
    for (const y of [0, 50, height - 4])
      for (const [column, row0] of [
        [0, 0],
        [1, 0],
        [0, 1],
        [1, 1],
      ] as const) {
        const count = column === 1 ? width - 5 : width;
        const mine = row(
          decoded.value.data as Uint8Array,
          y + row0 * height,
          2 * width - 5,
          column * width,
          count,
        );
        expect(mine.equals(row(single.value.data as Uint8Array, y, width, 0, count))).toBe(true);
      }
  });

  test.each<[string, Buffer]>([
    ['when one is missing', grid(2, 2, 2 * width, 2 * height, 3)],
    ['when there are more than fit', grid(2, 2, width, 2 * height, 4)],
    ['when they do not reach the edge', grid(1, 1, width + 1, height, 1)],
  ])('is held %s', async (_, file) => {
    expect(await codeOf(file)).toBe('damaged');
  });

  test('is held when one of them is not whole', async () => {
    const file = grid(2, 2, 2 * width, 2 * height, 4);
    const [data] = H.findBoxes(file, 'mdat');
    const broken = Buffer.from(file);
    // A slice header of the last tile that no decoder can read.
    broken.fill(0xff, data!.to - H.codedPicture.length + 6, data!.to - H.codedPicture.length + 30);
    expect(['held']).toContain((await heic.strip(broken)).kind);
  });
});

function withAlpha(): Buffer {
  const kind = H.fullBox('auxC', 0, 0, 'urn:mpeg:mpegB:cicp:systems:auxiliary:alpha\0');
  return H.makeHeic([
    whole,
    H.codedItem({ hidden: true, properties: [...whole.properties!, kind], refers: ['auxl', 1] }),
  ]);
}

/** A file of the family that holds a film and no still picture. */
function movingOnly(): Buffer {
  return Buffer.concat([H.box('ftyp', 'msf1', H.u(4, 0), 'hevc'), H.box('moov', 'x'), H.box('mdat', 'x')]);
}
