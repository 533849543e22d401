import type { Pixels } from './pixels.js';

// Tag numbers and field types: TIFF 6.0, section 2 and 8; ICC profile (34675): ICC.1:2022 annex B.4.
const SHORT = 3;
const LONG = 4;
const BYTES = 7;
const STRIP_OFFSETS = 273;
const HEADER = Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0]);
const PHOTOMETRIC = { grey: 1, rgb: 2, cmyk: 5 } as const;

type Entry = [tag: number, type: number, count: number, value: number | Buffer];

/**
 * Decoded pixels as an uncompressed TIFF in memory, with the profile they came with. Raw pixels alone cannot carry
 * a profile or say that four channels are CMYK; this lets the colour engine see both without a second decode.
 * Little-endian, as the pixels are on every machine Node runs on here.
 */
export function wrapAsTiff(pixels: Pixels): Buffer {
  const entries = entriesOf(pixels);
  const directory = Buffer.alloc(2 + 12 * entries.length + 4);
  directory.writeUInt16LE(entries.length, 0);
  const values: Buffer[] = [];
  let end = HEADER.length + directory.length;
  entries.forEach(([tag, type, count, value], index) => {
    const at = 2 + 12 * index;
    directory.writeUInt16LE(tag, at);
    directory.writeUInt16LE(type, at + 2);
    directory.writeUInt32LE(count, at + 4);
    if (typeof value === 'number') {
      directory.writeUInt32LE(value, at + 8);
    } else if (value.length <= 4) {
      value.copy(directory, at + 8);
    } else {
      directory.writeUInt32LE(end, at + 8);
      // The next value must start at an even place.
      const even = Buffer.concat([value, Buffer.alloc(value.length % 2)]);
      values.push(even);
      end += even.length;
    }
  });
  const stripOffset = entries.findIndex(([tag]) => tag === STRIP_OFFSETS);
  directory.writeUInt32LE(end, 2 + 12 * stripOffset + 8);
  return Buffer.concat([HEADER, directory, ...values, pixels.data]);
}

/** In rising order of tags, as readers require; one strip holds the whole picture. */
function entriesOf(pixels: Pixels): Entry[] {
  const { widthPx, heightPx, channels, data, profile } = pixels;
  const bits = Buffer.alloc(2 * channels);
  for (let at = 0; at < channels; at++) bits.writeUInt16LE(pixels.bitsPerChannel, 2 * at);
  const entries: Entry[] = [
    [256, LONG, 1, widthPx],
    [257, LONG, 1, heightPx],
    [258, SHORT, channels, bits],
    [259, SHORT, 1, 1], // not compressed
    [262, SHORT, 1, PHOTOMETRIC[pixels.colour]],
    [STRIP_OFFSETS, LONG, 1, 0],
    [277, SHORT, 1, channels],
    [278, LONG, 1, heightPx],
    [279, LONG, 1, data.length],
  ];
  if (pixels.hasAlpha) entries.push([338, SHORT, 1, 2]);
  if (profile) entries.push([34675, BYTES, profile.length, profile]);
  return entries;
}
