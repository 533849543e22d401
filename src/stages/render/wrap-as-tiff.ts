import type { Pixels } from './pixels.js';

// Tag numbers and field types: TIFF 6.0, section 2 and 8; ICC profile (34675): ICC.1:2022 annex B.4.
const SHORT = 3;
const LONG = 4;
const BYTES = 7;
const PHOTOMETRIC = { grey: 1, rgb: 2, cmyk: 5 } as const;

/**
 * Decoded pixels as an uncompressed TIFF in memory, with the profile they came with. Raw pixels alone cannot carry
 * a profile or say that four channels are CMYK; this lets the colour engine see both without a second decode.
 */
export function wrapAsTiff(pixels: Pixels): Buffer {
  const extras: Buffer[] = [];
  let extraAt = 0;
  const put = (bytes: Buffer): number => {
    const at = extraAt;
    extras.push(bytes.length % 2 === 0 ? bytes : Buffer.concat([bytes, Buffer.alloc(1)]));
    extraAt += bytes.length + (bytes.length % 2);
    return at;
  };
  const bits = Buffer.alloc(2 * pixels.channels);
  for (let at = 0; at < pixels.channels; at++) bits.writeUInt16LE(pixels.bitsPerChannel, 2 * at);
  const entries: [tag: number, type: number, count: number, value: number | Buffer][] = [
    [256, LONG, 1, pixels.widthPx],
    [257, LONG, 1, pixels.heightPx],
    [258, SHORT, pixels.channels, bits],
    [259, SHORT, 1, 1],
    [262, SHORT, 1, PHOTOMETRIC[pixels.colour]],
    [273, LONG, 1, 0],
    [277, SHORT, 1, pixels.channels],
    [278, LONG, 1, pixels.heightPx],
    [279, LONG, 1, pixels.data.length],
  ];
  if (pixels.hasAlpha) entries.push([338, SHORT, 1, 2]);
  if (pixels.profile) entries.push([34675, BYTES, pixels.profile.length, pixels.profile]);

  const directory = Buffer.alloc(2 + 12 * entries.length + 4);
  const extrasStart = 8 + directory.length;
  directory.writeUInt16LE(entries.length, 0);
  const written = entries.map(([tag, type, count, value], index) => {
    const at = 2 + 12 * index;
    directory.writeUInt16LE(tag, at);
    directory.writeUInt16LE(type, at + 2);
    directory.writeUInt32LE(count, at + 4);
    if (typeof value === 'number') directory.writeUInt32LE(value, at + 8);
    else if (value.length <= 4) value.copy(directory, at + 8);
    else directory.writeUInt32LE(extrasStart + put(value), at + 8);
    return { tag, at };
  });
  const pixelsAt = extrasStart + extraAt;
  directory.writeUInt32LE(pixelsAt, written.find(({ tag }) => tag === 273)!.at + 8);
  const header = Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0]);
  return Buffer.concat([header, directory, ...extras, pixels.data]);
}
