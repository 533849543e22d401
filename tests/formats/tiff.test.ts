import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { drawColour, drawGrey16, pixelsOf } from '../fixtures/drawn-pixels.js';
import { holdsMarker, MARKER } from '../fixtures/markers.js';
import { greyFields, makeTiff, type TiffField } from '../fixtures/tiff-pieces.js';
import { stripped, strippedBytes } from './stripped.js';

const [WIDTH, HEIGHT] = [24, 10];
const pixels = Buffer.from(Array.from({ length: WIDTH * HEIGHT }, (_, index) => (index * 7) & 255));
const plain = strippedBytes(makeTiff([greyFields(WIDTH, HEIGHT)], pixels));
const decoded = (await pixelsOf(plain)).pixels;
const withField = (...more: TiffField[]) => makeTiff([greyFields(WIDTH, HEIGHT, ...more)], pixels);
const replaced = (tag: number, values: number[]): TiffField[] =>
  greyFields(WIDTH, HEIGHT).map((field) => (field[0] === tag ? [tag, field[1], values] : field));

/** Tags of trade and standard that name a person, place, time or device (TIFF 6.0, EXIF 2.32, XMP, IPTC). */
const TAGS = [
  269, 270, 271, 272, 285, 305, 306, 315, 316, 700, 32781, 33432, 33723, 34377, 34675, 37510, 50341, 65000,
];

describe('a TIFF carrier', () => {
  test.each(TAGS)('tag %i leaves nothing behind', (tag) => {
    const file = withField([tag, 2, MARKER]);
    expect(holdsMarker(file)).toBe(true);
    expect(strippedBytes(file).equals(plain)).toBe(true);
  });

  test('bytes that nothing points to, and those beyond the pixels of a strip, are dropped', () => {
    const longer = Buffer.concat([pixels, Buffer.from(MARKER)]);
    expect(strippedBytes(makeTiff([greyFields(WIDTH, HEIGHT)], longer)).equals(plain)).toBe(true);
    const counted = makeTiff([replaced(279, [longer.length])], longer);
    expect(strippedBytes(counted).equals(plain)).toBe(true);
  });

  test('bytes behind the end of a compressed strip are dropped', async () => {
    const packed = { 8: deflateSync(pixels), 32773: packBits(pixels) };
    for (const [compression, data] of Object.entries(packed)) {
      const hidden = Buffer.concat([data, Buffer.from(MARKER)]);
      const fields = replaced(279, [hidden.length]).map(
        (field): TiffField => (field[0] === 259 ? [259, 3, [Number(compression)]] : field),
      );
      const output = strippedBytes(makeTiff([fields], hidden));
      expect([compression, holdsMarker(output)]).toEqual([compression, false]);
      expect([compression, (await pixelsOf(output)).pixels.equals(decoded)]).toEqual([compression, true]);
    }
  });

  test('rows beyond the picture inside a deflate strip are dropped', async () => {
    const data = deflateSync(Buffer.concat([pixels, Buffer.from(MARKER)]), { level: 0 });
    const fields = replaced(279, [data.length]).map(
      (field): TiffField => (field[0] === 259 ? [259, 3, [8]] : field),
    );
    const output = strippedBytes(makeTiff([fields], data));
    expect(holdsMarker(output)).toBe(false);
    expect((await pixelsOf(output)).pixels.equals(decoded)).toBe(true);
  });

  test('what a tile holds beyond the edge of the picture is zeroed', async () => {
    const tile = Buffer.alloc(32 * 16, 'x');
    for (let row = 0; row < HEIGHT; row++) pixels.copy(tile, row * 32, row * WIDTH, (row + 1) * WIDTH);
    tile.write(MARKER, 32 * 12, 'latin1');
    const fields: TiffField[] = [
      ...greyFields(WIDTH, HEIGHT).filter(([tag]) => ![273, 278, 279].includes(tag)),
      [322, 3, [32]],
      [323, 3, [16]],
      [324, 4, [0]],
      [325, 4, [tile.length]],
    ];
    const output = strippedBytes(makeTiff([fields], tile));
    expect(output.includes('xxxx')).toBe(false);
    expect(holdsMarker(output)).toBe(false);
    expect((await pixelsOf(output)).pixels.equals(decoded)).toBe(true);
  });

  test('16 bits stay 16 bits with metadata of every kind around them', async () => {
    const source = await drawGrey16()
      .withXmp(`<x>${MARKER}</x>`)
      .tiff({ compression: 'lzw', predictor: 'horizontal' })
      .toBuffer();
    const output = strippedBytes(source);
    expect([holdsMarker(source), holdsMarker(output)]).toEqual([true, false]);
    const [before, after] = [await pixelsOf(source), await pixelsOf(output)];
    expect([after.depth, after.pixels.equals(before.pixels)]).toEqual(['ushort', true]);
  });
});

describe('a TIFF is held', () => {
  test.each([
    ['BigTIFF', Buffer.from('II+\0\x08\0\0\0\x10\0\0\0\0\0\0\0', 'latin1'), 'unusual'],
    [
      'a directory that points to itself',
      makeTiff([greyFields(WIDTH, HEIGHT)], pixels, { loop: true }),
      'damaged',
    ],
    ['a strip outside the file', makeTiff([replaced(273, [1_000_000])], pixels), 'damaged'],
    ['a strip that is too short', makeTiff([replaced(279, [pixels.length - 1])], pixels), 'damaged'],
    ['a missing strip', makeTiff([replaced(278, [4])], pixels), 'damaged'],
    ['fax compression', makeTiff([replaced(259, [4])], pixels), 'unusual'],
    ['an unknown compression', makeTiff([replaced(259, [50_000])], pixels), 'unusual'],
    ['32 bits', makeTiff([replaced(258, [32])], pixels), 'unusual'],
    ['floating point', withField([339, 3, [3]]), 'unusual'],
    ['an unknown kind of colour', makeTiff([replaced(262, [6])], pixels), 'unusual'],
    ['too many pixels', makeTiff([replaced(256, [4_000_000_000])], pixels), 'too-many-pixels'],
    ['no picture', Buffer.from('II*\0\0\0\0\0', 'latin1'), 'damaged'],
  ])('for %s', (_, file, code) => {
    expect(stripped(file)).toBe(code);
  });

  test('for JPEG compression inside', async () => {
    expect(stripped(await drawColour().tiff({ compression: 'jpeg' }).toBuffer())).toBe('unusual');
  });
});

/** Literal runs only. */
function packBits(bytes: Buffer): Buffer {
  const parts: Buffer[] = [];
  for (let at = 0; at < bytes.length; at += 128) {
    const run = bytes.subarray(at, at + 128);
    parts.push(Buffer.from([run.length - 1]), run);
  }
  return Buffer.concat(parts);
}
