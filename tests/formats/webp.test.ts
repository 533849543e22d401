import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { drawColour, pixelsOf } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { holdsMarker, MARKER } from '../fixtures/markers.js';
import { riffChunk, withChunks } from '../fixtures/webp-pieces.js';
import { stripped, strippedBytes } from './stripped.js';

const lossy = await drawColour().webp().toBuffer();
const lossless = await drawColour().webp({ lossless: true }).toBuffer();

describe('a WebP carrier', () => {
  test.each([
    ['EXIF', riffChunk('EXIF', exifBlock([{ tag: 0x13b, type: 2, value: MARKER }]))],
    ['XMP', riffChunk('XMP ', `<x>${MARKER}</x>`)],
    ['a profile of text', riffChunk('ICCP', MARKER)],
    ['an unknown chunk', riffChunk('PATI', MARKER)],
  ])('%s leaves nothing behind', (_, chunk) => {
    for (const picture of [lossy, lossless])
      expect(strippedBytes(withChunks(picture, chunk)).equals(strippedBytes(picture))).toBe(true);
  });

  test('data after the container is dropped', () => {
    expect(strippedBytes(Buffer.concat([lossy, Buffer.from(MARKER)])).equals(lossy)).toBe(true);
  });

  test('the extended header goes when nothing needs it, and keeps alpha when the picture has it', async () => {
    const withExif = await drawColour()
      .withExif({ IFD0: { Artist: MARKER } })
      .webp()
      .toBuffer();
    expect([holdsMarker(withExif), withExif.includes('VP8X')]).toEqual([true, true]);
    expect(strippedBytes(withExif).includes('VP8X')).toBe(false);
    const alpha = await drawColour()
      .ensureAlpha(0.4)
      .withExif({ IFD0: { Artist: MARKER } })
      .webp()
      .toBuffer();
    const output = strippedBytes(alpha);
    expect(holdsMarker(output)).toBe(false);
    expect((await sharp(output).metadata()).channels).toBe(4);
    expect((await pixelsOf(output)).pixels.equals((await pixelsOf(alpha)).pixels)).toBe(true);
  });
});

describe('a WebP is held', () => {
  test('when it is cut, holds two pictures, or its sizes contradict', () => {
    expect(stripped(lossy.subarray(0, -1))).toBe('damaged');
    expect(stripped(withChunks(lossy, riffChunk('VP8L', lossless.subarray(20))))).toBe('unusual');
    const header = Buffer.alloc(10);
    header.writeUIntLE(99, 4, 3);
    const wrong = Buffer.concat([lossy.subarray(0, 12), riffChunk('VP8X', header), lossy.subarray(12)]);
    expect(stripped(withChunks(wrong))).toBe('damaged');
  });
});
