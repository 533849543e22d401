import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { heic } from '../../src/formats/heic/index.js';
import { identify } from '../../src/stages/identify/index.js';
import { render } from '../../src/stages/render/index.js';
import { strip } from '../../src/stages/strip/index.js';
import { drawColour } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import * as H from '../fixtures/heic-pieces.js';
import { holdsMarker, MARKER, MARKER_CODINGS } from '../fixtures/markers.js';
import { pngChunksOf } from '../fixtures/png-pieces.js';
import { strippedBytesLater } from './stripped.js';

const plain = await strippedBytesLater(H.drawnHeic);
const rgbOf = (bytes: Uint8Array) => sharp(bytes, { ignoreIcc: true }).removeAlpha().raw().toBuffer();
const worst = (a: Buffer, b: Buffer): number =>
  a.reduce((most, value, at) => Math.max(most, Math.abs(value - b[at]!)), Math.abs(a.length - b.length));
const mean = (a: Buffer, b: Buffer): number =>
  a.reduce((sum, value, at) => sum + Math.abs(value - b[at]!), 0) / a.length;
const surveyOf = (bytes: Uint8Array) => {
  const outcome = heic.survey(bytes);
  if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
  return outcome.value;
};
const exif = exifBlock([{ tag: 0x13b, type: 2, value: MARKER }]);

describe('a HEIC becomes a PNG', () => {
  test('with the pixels that heif-convert 1.15.1 makes of it', async () => {
    const [ours, theirs] = [await rgbOf(plain), await rgbOf(H.drawnByHeifConvert)];
    expect(ours.length).toBe(3 * H.DRAWN_WIDTH_PX * H.DRAWN_HEIGHT_PX);
    expect(worst(ours, theirs)).toBeLessThanOrEqual(1);
    // and they are the picture that was drawn, as far as quality 60 goes
    const drawn = await drawColour(H.DRAWN_WIDTH_PX, H.DRAWN_HEIGHT_PX).raw().toBuffer();
    expect(mean(ours, drawn)).toBeLessThan(12);
  });

  test('that holds header, picture data and nothing else, in the same bytes each time', async () => {
    expect([...new Set(pngChunksOf(plain).map(({ name }) => name))]).toEqual(['IHDR', 'IDAT', 'IEND']);
    expect((await strippedBytesLater(H.drawnHeic)).equals(plain)).toBe(true);
    expect((await strippedBytesLater(H.makeHeic([H.codedItem()]))).equals(plain)).toBe(true);
  });
});

describe('a HEIC carrier', () => {
  const packet = `<x:xmpmeta><rdf:Description DICOM:PatientName="${MARKER}"/></x:xmpmeta>`;
  const named = (item: H.MadeItem) => H.makeHeic([H.codedItem(), item]);
  const carriers: Record<string, [file: Buffer, readForGuard: boolean]> = {
    EXIF: [named(H.exifItem(exif)), true],
    'EXIF of another picture': [H.makeHeic([H.codedItem(), H.codedItem(), H.exifItem(exif, 2)]), true],
    XMP: [named(H.mimeItem('application/rdf+xml', packet)), true],
    'packed XMP': [
      named({ ...H.mimeItem('application/rdf+xml', deflateSync(packet)), contentEncoding: 'deflate' }),
      true,
    ],
    'an item of text': [named(H.mimeItem('text/plain', MARKER)), true],
    'an item of text in UTF-16': [named(H.mimeItem('x/y', MARKER_CODINGS['utf16le']!)), true],
    "a picture's name": [H.makeHeic([H.codedItem({ name: MARKER })]), true],
    'a description': [
      H.makeHeic([
        H.codedItem({
          properties: [
            ...H.codedItem().properties!,
            H.fullBox('udes', 0, 0, `en\0${MARKER}\0${MARKER}\0${MARKER}\0`),
          ],
        }),
      ]),
      true,
    ],
    'a profile of text': [
      H.makeHeic([
        H.codedItem({ properties: [...H.codedItem().properties!, H.box('colr', 'prof', MARKER)] }),
      ]),
      false,
    ],
    'a box of a maker': [H.makeHeic([H.codedItem()], { boxes: [H.box('uuid', MARKER)] }), false],
    'a free box': [H.makeHeic([H.codedItem()], { boxes: [H.box('free', MARKER)] }), false],
    'data after the end': [H.makeHeic([H.codedItem()], { after: Buffer.from(MARKER) }), false],
    'a thumbnail of text': [named({ type: 'jpeg', data: Buffer.from(MARKER), refers: ['thmb', 1] }), false],
    'a depth map of text': [named({ type: 'hvc1', data: Buffer.from(MARKER), refers: ['auxl', 1] }), false],
    'a second picture of text': [named({ type: 'jpeg', data: Buffer.from(MARKER) }), false],
    'data that no item names': [named({ type: 'zzzz', data: Buffer.from(MARKER) }), false],
  };

  test.each(Object.entries(carriers))('%s leaves nothing behind', async (_, [file, readForGuard]) => {
    expect(holdsMarker(file) || file.includes(deflateSync(packet))).toBe(true);
    const outcome = await identify(file, 'a.heic');
    if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
    expect(outcome.value.identifying.some(({ value }) => value.includes(MARKER))).toBe(readForGuard);
    const clean = await strip(file, outcome.value);
    expect(clean.kind === 'kept' && Buffer.from(clean.value.bytes).equals(plain)).toBe(true);
  });
});

describe('of several pictures', () => {
  test('the main one is taken, wherever it stands, and the file says how many there were', async () => {
    const other = H.codedItem({ data: Buffer.from(MARKER) });
    const file = H.makeHeic([other, H.codedItem(), other], { primary: 2 });
    expect((await strippedBytesLater(file)).equals(plain)).toBe(true);
    expect(surveyOf(file).notes).toEqual([
      'The file holds 3 pictures; the main one was taken, the others were left out.',
    ]);
  });

  test('thumbnails, maps and hidden pieces are none', () => {
    const lesser = (kind: string): H.MadeItem => ({
      type: 'jpeg',
      data: Buffer.from('x'),
      refers: [kind, 1],
    });
    const hidden: H.MadeItem = { type: 'hvc1', data: Buffer.from('x'), hidden: true };
    expect(surveyOf(H.makeHeic([H.codedItem(), lesser('thmb'), lesser('auxl'), hidden])).notes).toEqual([]);
  });

  test('a moving picture beside the still one is told', () => {
    const [note] = surveyOf(H.makeHeic([H.codedItem()], { boxes: [H.box('moov', 'x')] })).notes;
    expect(note).toContain('moving picture');
  });
});

describe('the picture stands upright once', () => {
  const turnedBy = (...properties: Buffer[]) => [...H.codedItem().properties!, ...properties];
  const shown = sharp(plain);
  /** Rotation runs against the clock (ISO/IEC 23008-12, 6.5.10), sharp's with it. */
  test.each<[string, Buffer[], () => Promise<Buffer>]>([
    ['a quarter to the left', [H.irot(1)], () => shown.clone().rotate(270).raw().toBuffer()],
    ['a half', [H.irot(2)], () => shown.clone().rotate(180).raw().toBuffer()],
    ['a quarter to the right', [H.irot(3)], () => shown.clone().rotate(90).raw().toBuffer()],
    ['mirrored top to bottom', [H.imir(0)], () => shown.clone().flip().raw().toBuffer()],
    ['mirrored left to right', [H.imir(1)], () => shown.clone().flop().raw().toBuffer()],
    [
      'cropped',
      [H.clap(100, 60, 4, -2)],
      () => shown.clone().extract({ left: 18, top: 16, width: 100, height: 60 }).raw().toBuffer(),
    ],
  ])('%s', async (_, properties, expected) => {
    // What EXIF repeats must not turn it again (ISO/IEC 23008-12, annex A: the properties decide).
    const orientation = exifBlock([{ tag: 274, type: 3, value: 6 }]);
    const file = H.makeHeic([H.codedItem({ properties: turnedBy(...properties) }), H.exifItem(orientation)]);
    const outcome = await identify(file, 'a.heic');
    if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
    const facts = outcome.value;
    expect(facts.orientation).toBe(1);
    const clean = await strip(file, facts);
    if (clean.kind !== 'kept') throw new Error(clean.reason.code);
    expect((await rgbOf(clean.value.bytes)).equals(await expected())).toBe(true);
    const job = { original: file, stripped: clean.value.bytes, facts, radiograph: false, flip: false };
    const rendered = await render(job);
    expect(rendered).toMatchObject({
      kind: 'kept',
      value: { widthPx: facts.widthPx, heightPx: facts.heightPx, processing: [] },
    });
  });

  test('and an orientation in EXIF alone is told, not believed', async () => {
    const file = H.makeHeic([H.codedItem(), H.exifItem(exifBlock([{ tag: 274, type: 3, value: 6 }]))]);
    const outcome = await identify(file, 'a.heic');
    expect(outcome).toMatchObject({ kind: 'kept', value: { orientation: 1, widthPx: H.DRAWN_WIDTH_PX } });
    expect(surveyOf(file).notes.join()).toContain('lies on its side');
  });
});

describe('colours', () => {
  const withColour = (...boxes: Buffer[]) =>
    strippedBytesLater(H.makeHeic([H.codedItem({ properties: [...H.codedItem().properties!, ...boxes] })]));

  test('in P3 stay P3, whether the file says so by a profile or by numbers', async () => {
    const p3 = (await sharp(await drawColour().withIccProfile('p3').png().toBuffer()).metadata()).icc!;
    // The oracle: the same pixels with sharp's own P3 profile.
    const tagged = await sharp(plain).withIccProfile('p3').png().toBuffer();
    const oracle = await sharp(
      Buffer.concat([
        plain.subarray(0, 33),
        ...pngChunksOf(tagged)
          .filter(({ name }) => name === 'iCCP')
          .map(({ at, end }) => tagged.subarray(at, end)),
        plain.subarray(33),
      ]),
    )
      .toColourspace('srgb')
      .raw()
      .toBuffer();
    const ignored = await rgbOf(plain);
    expect(worst(oracle, ignored)).toBeGreaterThan(5);
    // sharp's profile has a zero where Display P3 has -0.001, which shows in the darkest blue of strong reds.
    for (const [colour, levels] of [
      [H.box('colr', 'prof', p3), 1],
      [H.nclx(12, 13), 4],
    ] as const) {
      const file = await withColour(colour);
      const shown = await sharp(file).toColourspace('srgb').raw().toBuffer();
      expect(worst(shown, oracle)).toBeLessThanOrEqual(levels);
      expect(mean(shown, oracle)).toBeLessThan(0.2);
      expect((await rgbOf(file)).equals(ignored)).toBe(true);
    }
  });

  test('in sRGB need no profile', async () => {
    for (const primaries of [1, 2, 6])
      expect((await withColour(H.nclx(primaries, 13))).equals(plain)).toBe(true);
  });
});
