import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { crc32 } from '../../src/formats/png/crc.js';
import { drawColour, drawGrey16, pixelsOf } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { holdsMarker, MARKER, MARKER_CODINGS } from '../fixtures/markers.js';
import { beforeChunk, iTXt, pngChunk, pngChunksOf, withPictureData, zTXt } from '../fixtures/png-pieces.js';
import { stripped, strippedBytes } from './stripped.js';

const picture = await drawColour().png().toBuffer();
const plain = strippedBytes(picture);

const carriers: Record<string, Buffer> = {
  tEXt: pngChunk('tEXt', `Comment\0${MARKER}`),
  zTXt: zTXt('Comment', MARKER),
  iTXt: iTXt('Comment', MARKER),
  XMP: iTXt('XML:com.adobe.xmp', `<x>${MARKER}</x>`),
  eXIf: pngChunk('eXIf', exifBlock([{ tag: 0x13b, type: 2, value: MARKER }])),
  tIME: pngChunk('tIME', '\x07\xea\x02\x0b\x09\x29\x03'),
  'an unknown chunk': pngChunk('paTi', MARKER),
  'an unknown chunk in UTF-16': pngChunk('paTi', MARKER_CODINGS['utf16le']!),
  'a colour profile of text': pngChunk(
    'iCCP',
    Buffer.concat([Buffer.from(`${MARKER}\0\0`), deflateSync(MARKER)]),
  ),
  'a cHRM that is text': pngChunk('cHRM', MARKER.padEnd(32)),
  'a gAMA that is text': pngChunk('gAMA', 'ROWA'),
  'a chunk with a wrong checksum': Buffer.concat([
    pngChunk('tEXt', `A\0${MARKER}`).subarray(0, -1),
    Buffer.from([7]),
  ]),
};

describe('a PNG carrier', () => {
  test.each(Object.entries(carriers))('%s leaves nothing behind', (_, extra) => {
    expect(strippedBytes(beforeChunk(picture, 'IDAT', extra)).equals(plain)).toBe(true);
    expect(holdsMarker(strippedBytes(beforeChunk(picture, 'IEND', extra)))).toBe(false);
  });

  test('bytes after the end and after the zlib stream are dropped', () => {
    const hidden = withPictureData(picture, (zlib) => Buffer.concat([zlib, Buffer.from(MARKER)]));
    expect(holdsMarker(hidden)).toBe(true);
    expect(holdsMarker(strippedBytes(hidden))).toBe(false);
    expect(strippedBytes(Buffer.concat([picture, Buffer.from(MARKER)])).equals(plain)).toBe(true);
  });

  test('16 bits of grey stay 16 bits', async () => {
    const deep = await drawGrey16().png().toBuffer();
    const output = strippedBytes(beforeChunk(deep, 'IDAT', carriers['tEXt']!));
    const [before, after] = [await pixelsOf(deep), await pixelsOf(output)];
    expect([after.depth, after.pixels.equals(before.pixels)]).toEqual(['ushort', true]);
  });

  test('plausible gamma, density and background stay', () => {
    const kept = [
      pngChunk('gAMA', '\0\0\xb1\x8f'),
      pngChunk('pHYs', '\0\0\x0b\x13\0\0\x0b\x13\x01'),
      pngChunk('bKGD', '\0\x10\0\x10\0\x10'),
    ];
    const bare = withPictureData(picture, (zlib) => zlib);
    const file = beforeChunk(bare, 'IDAT', ...kept);
    expect(strippedBytes(file).equals(file)).toBe(true);
  });
});

describe('a PNG is held', () => {
  test('when an unknown critical chunk stands in it', () => {
    expect(stripped(beforeChunk(picture, 'IDAT', pngChunk('PaTi', MARKER)))).toBe('unusual');
  });

  test('when the picture data unpacks to more or less than the picture', () => {
    expect(
      stripped(
        withPictureData(picture, (_, rows) => deflateSync(Buffer.concat([rows, Buffer.from(MARKER)]))),
      ),
    ).toBe('unusual');
    expect(stripped(withPictureData(picture, (_, rows) => deflateSync(rows.subarray(0, -1))))).toBe(
      'damaged',
    );
  });

  test('when it has no end, a wrong checksum, or picture data in two places', () => {
    const end = pngChunksOf(picture).at(-1)!;
    expect(stripped(picture.subarray(0, end.at))).toBe('damaged');
    const wrong = Buffer.from(picture);
    wrong[pngChunksOf(picture).find(({ name }) => name === 'IDAT')!.end - 1]! ^= 1;
    expect(stripped(wrong)).toBe('damaged');
    const split = beforeChunk(picture, 'IEND', pngChunk('tEXt', 'A\0B'), pngChunk('IDAT', ''));
    expect(stripped(split)).toBe('damaged');
  });

  test('when it says it has more pixels than are ever opened', () => {
    const header = Buffer.from(picture);
    header.writeUInt32BE(50_000, 16);
    header.writeUInt32BE(50_000, 20);
    header.writeUInt32BE(crc32(header.subarray(12, 29)), 29);
    expect(stripped(header)).toBe('too-many-pixels');
  });
});

test('the checksum is that of ISO 3309: 123456789 gives CBF43926', () => {
  // Check value of CRC-32 as catalogued for ISO-HDLC (from memory).
  expect(crc32(Buffer.from('123456789')).toString(16)).toBe('cbf43926');
});
