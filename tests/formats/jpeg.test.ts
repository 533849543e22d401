import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { drawColour, pixelsOf } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import {
  afterStart,
  before,
  insertAt,
  restartJpeg,
  segment,
  segmentsOf,
  without,
} from '../fixtures/jpeg-pieces.js';
import { holdsMarker, MARKER, MARKER_CODINGS } from '../fixtures/markers.js';
import { formatOf, notesOf, stripped, strippedBytes } from './stripped.js';

const baseline = await drawColour().jpeg().toBuffer();
const progressive = await drawColour().jpeg({ progressive: true }).toBuffer();
const plain = strippedBytes(baseline);
const thumbnail = Buffer.concat([Buffer.from([0xff, 0xd8]), Buffer.from(MARKER), Buffer.from([0xff, 0xd9])]);
const exif = Buffer.concat([
  Buffer.from('Exif\0\0', 'latin1'),
  exifBlock(
    [{ tag: 0x13b, type: 2, value: MARKER }],
    [{ tag: 0x9286, type: 7, value: Buffer.from(MARKER) }],
    thumbnail,
  ),
]);

const carriers: Record<string, Buffer> = {
  'EXIF with a thumbnail': segment(0xe1, exif),
  XMP: segment(0xe1, `http://ns.adobe.com/xap/1.0/\0<x>${MARKER}</x>`),
  'extended XMP': segment(
    0xe1,
    `http://ns.adobe.com/xmp/extension/\0${'A'.repeat(32)}\0\0\0\x20\0\0\0\0${MARKER}`,
  ),
  IPTC: segment(0xed, `Photoshop 3.0\x008BIM\x04\x04\0\0\0\x1e\x1c\x02\x50\0\x15${MARKER}`),
  'an unknown APP7': segment(0xe7, MARKER),
  'a comment': segment(0xfe, MARKER),
  'a comment in UTF-16': segment(0xfe, MARKER_CODINGS['utf16be']!),
  JFXX: segment(0xe0, `JFXX\0\x10${thumbnail.toString('latin1')}`),
  'the text of a colour profile': segment(0xe2, `ICC_PROFILE\0\x01\x01${MARKER.padEnd(200)}`),
  'an unused quantisation table': segment(
    0xdb,
    Buffer.concat([Buffer.from([3]), Buffer.from(MARKER.padEnd(64))]),
  ),
  'junk between segments': Buffer.from(MARKER),
  'fill bytes and junk': Buffer.from(`\xff\0${MARKER}\xff\xff`, 'latin1'),
};

describe('a JPEG carrier', () => {
  test.each(Object.entries(carriers))('%s leaves nothing behind, wherever it stands', (name, extra) => {
    // Bytes that start no segment belong to the scan when they follow its data; the scan's own test has those.
    const isSegment = !name.includes('junk');
    const places = [before(baseline, 0xc0, extra), before(baseline, 0xda, extra)];
    if (isSegment) places.push(afterStart(baseline, extra), before(baseline, 0xd9, extra));
    for (const file of places) {
      expect(holdsMarker(file)).toBe(true);
      expect(strippedBytes(file).equals(plain)).toBe(true);
    }
    const between = before(progressive, isSegment ? 0xda : 0xc4, extra, isSegment ? 3 : 0);
    expect(strippedBytes(between).equals(strippedBytes(progressive))).toBe(true);
  });

  test('a thumbnail with an end marker between two progressive scans does not end the file', async () => {
    const file = before(progressive, 0xda, segment(0xe1, exif), 2);
    const [source, output] = [await pixelsOf(progressive), await pixelsOf(strippedBytes(file))];
    expect(output.pixels.equals(source.pixels)).toBe(true);
  });

  test.each(['PK\x03\x04 a zip', MARKER, baseline.toString('latin1')])(
    'what follows the end is dropped',
    (extra) => {
      expect(strippedBytes(Buffer.concat([baseline, Buffer.from(extra, 'latin1')])).equals(plain)).toBe(true);
    },
  );

  test('a JFIF thumbnail is dropped and the density kept', () => {
    const jfif = segment(0xe0, `JFIF\0\x01\x02\x01\0\x48\0\x49\x03\x03${MARKER.padEnd(27)}`);
    const output = strippedBytes(afterStart(without(baseline, 0xe0), jfif));
    expect(output.toString('latin1', 2, 20)).toBe('\xff\xe0\0\x10JFIF\0\x01\x01\x01\0\x48\0\x49\0\0');
  });

  test('an Adobe segment keeps its transform and 12 bytes only', () => {
    const adobe = segment(0xee, `Adobe\0\x65AAAA\x01${MARKER}`);
    const output = strippedBytes(afterStart(without(baseline, 0xe0), adobe));
    expect(output.toString('latin1', 2, 18)).toBe('\xff\xee\0\x0eAdobe\0\x64\0\0\0\0\x01');
  });
});

describe('colour', () => {
  test('is never changed by adding a JFIF header to a file whose channels are named R, G, B', async () => {
    // libjpeg takes identifiers R, G, B without JFIF or Adobe as RGB (jdapimin.c, default_decompress_parms).
    const noHead = Buffer.from(without(without(baseline, 0xe0), 0xee));
    const frame = segmentsOf(noHead).find(({ marker }) => marker === 0xc0)!;
    const scan = segmentsOf(noHead).find(({ marker }) => marker === 0xda)!;
    ['R', 'G', 'B'].forEach((letter, channel) => {
      noHead[frame.at + 10 + 3 * channel] = letter.charCodeAt(0);
      noHead[scan.at + 5 + 2 * channel] = letter.charCodeAt(0);
    });
    const [source, output] = [await pixelsOf(noHead), await pixelsOf(strippedBytes(noHead))];
    expect(output.pixels.equals(source.pixels)).toBe(true);
    expect(source.pixels.equals((await pixelsOf(baseline)).pixels)).toBe(false);
  });

  test.each([0, 2])('of four channels with Adobe transform %i stays', async (transform) => {
    const cmyk = await drawColour().toColourspace('cmyk').jpeg().toBuffer();
    const file = afterStart(
      without(cmyk, 0xee),
      segment(0xee, `Adobe\0\x64\0\0\0\0${String.fromCharCode(transform)}`),
    );
    const [source, output] = [await pixelsOf(file), await pixelsOf(strippedBytes(file))];
    expect(output.pixels.equals(source.pixels)).toBe(true);
  });

  test('profile chunks are joined by their numbers, not their order', async () => {
    const p3 = await drawColour().withIccProfile('p3').jpeg().toBuffer();
    const chunk = segmentsOf(p3).find(({ marker }) => marker === 0xe2)!;
    const profile = p3.subarray(chunk.at + 18, chunk.end);
    const part = (number: number, bytes: Buffer) =>
      segment(0xe2, `ICC_PROFILE\0${String.fromCharCode(number)}\x02${bytes.toString('latin1')}`);
    const bare = Buffer.concat([p3.subarray(0, chunk.at), p3.subarray(chunk.end)]);
    const swapped = insertAt(
      bare,
      chunk.at,
      Buffer.concat([part(2, profile.subarray(200)), part(1, profile.subarray(0, 200))]),
    );
    expect(strippedBytes(swapped).equals(strippedBytes(p3))).toBe(true);
    expect((await sharp(strippedBytes(swapped)).metadata()).icc?.length).toBeGreaterThan(0);
    const missing = insertAt(bare, chunk.at, part(2, profile.subarray(200)));
    expect(notesOf(missing).join()).toContain('colour profile');
  });
});

describe('a JPEG is held', () => {
  test.each([
    ['lossless', 0xc3],
    ['hierarchical', 0xc5],
    ['arithmetic', 0xc9],
    ['progressive arithmetic', 0xca],
  ])('when its coding is %s', (_, marker) => {
    const file = Buffer.from(baseline);
    file[segmentsOf(file).find((entry) => entry.marker === 0xc0)!.at + 1] = marker;
    expect(stripped(file)).toBe('unusual');
  });

  test('when its height is only told by DNL', () => {
    const file = Buffer.from(baseline);
    file.writeUInt16BE(0, segmentsOf(file).find((entry) => entry.marker === 0xc0)!.at + 5);
    expect(stripped(before(file, 0xd9, segment(0xdc, '\0\x35')))).toBe('unusual');
  });

  test('when it has 12 bits, two frames, or an unknown Adobe transform', () => {
    const deep = Buffer.from(baseline);
    deep[segmentsOf(deep).find((entry) => entry.marker === 0xc0)!.at + 4] = 12;
    const frame = segmentsOf(baseline).find((entry) => entry.marker === 0xc0)!;
    expect(stripped(deep)).toBe('unusual');
    expect(stripped(before(baseline, 0xda, baseline.subarray(frame.at, frame.end)))).toBe('unusual');
    expect(stripped(afterStart(baseline, segment(0xee, 'Adobe\0\x64\0\0\0\0\x09')))).toBe('unusual');
  });

  test('when restart markers are missing, too many, out of order, or there without an interval', () => {
    expect(typeof stripped(restartJpeg(20))).toBe('object');
    const extra = Buffer.concat([Buffer.from([0xff, 0xd3]), Buffer.from(MARKER)]);
    expect(stripped(restartJpeg(20, extra))).toBe('damaged');
    const missing = restartJpeg(20);
    const first = missing.lastIndexOf(Buffer.from([0xff, 0xd0]));
    expect(stripped(Buffer.concat([missing.subarray(0, first), missing.subarray(first + 2)]))).toBe(
      'damaged',
    );
    const swapped = restartJpeg(20);
    swapped[first + 1] = 0xd1;
    expect(stripped(swapped)).toBe('damaged');
    expect(stripped(without(restartJpeg(20), 0xdd))).toBe('damaged');
  });

  test('when a Huffman table carries text instead of symbols', () => {
    const counts = Buffer.alloc(16);
    counts[7] = MARKER.length;
    const table = Buffer.concat([Buffer.from([0x13]), counts, Buffer.from(MARKER)]);
    expect(stripped(before(baseline, 0xda, segment(0xc4, table)))).toBe('unusual');
  });
});

describe('what stands behind the last block of a baseline scan', () => {
  const trimmed = (bytes: Uint8Array): Uint8Array => {
    const outcome = formatOf(bytes).trim!(bytes);
    if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
    return outcome.value;
  };

  test.each([MARKER, '\0\0\0\0', 'x', '\xff\0', `\xff\0${MARKER}\xff\0`])('is cut', async (extra) => {
    const sources = [
      baseline,
      await drawColour().jpeg({ chromaSubsampling: '4:4:4', quality: 97 }).toBuffer(),
      await drawColour().grayscale().jpeg({ quality: 40 }).toBuffer(),
      await drawColour().toColourspace('cmyk').jpeg().toBuffer(),
      await drawColour(640, 480).jpeg({ optimiseCoding: true }).toBuffer(),
      restartJpeg(20),
    ];
    for (const source of sources) {
      const clean = strippedBytes(source);
      expect(trimmed(clean)).toBe(clean);
      const hidden = strippedBytes(
        insertAt(source, segmentsOf(source).at(-1)!.at, Buffer.from(extra, 'latin1')),
      );
      expect(Buffer.from(trimmed(hidden)).equals(clean)).toBe(true);
    }
  });

  test('holds the picture when it has fewer blocks than its size says', () => {
    const end = segmentsOf(plain).at(-1)!.at;
    const cut = Buffer.concat([plain.subarray(0, end - 40), plain.subarray(end)]);
    expect(formatOf(cut).trim!(cut).kind).toBe('held');
  });
});
