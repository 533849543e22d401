import type { StoredPixels } from '../../format.js';
import { refuseUnusual } from '../../refusal.js';
import { type Source, textsOf, wordsOf } from './source-values.js';
import { type CopyElement, text, words } from './write-elements.js';

const PIXEL_DATA = 0x7fe00010;

export interface PixelModule {
  elements: CopyElement[];
  photometric: string;
  signed: boolean;
  bitsStored: number;
  channels: 1 | 3;
}

const word = (source: Source, tag: number): number | null => wordsOf(source, tag, 'US')[0] ?? null;

/**
 * The Image Pixel module (PS3.3, C.7.6.3) for decoded pixels: native, channels by pixel, the unused bits of each
 * sample without content, since older objects keep overlays there.
 */
export function pixelModule(source: Source, pixels: StoredPixels): PixelModule {
  const { widthPx, heightPx, channels, bitsPerChannel: bits } = pixels;
  const stored = word(source, 0x00280101) ?? bits;
  const bitsStored = stored >= 1 && stored <= bits ? stored : bits;
  const signed = channels === 1 && word(source, 0x00280103) === 1;
  const photometric = photometricOf(source, channels);
  const elements: CopyElement[] = [
    words(0x00280002, 'US', [channels]),
    text(0x00280004, 'CS', photometric),
    ...(channels === 3 ? [words(0x00280006, 'US', [0])] : []),
    words(0x00280010, 'US', [heightPx]),
    words(0x00280011, 'US', [widthPx]),
    words(0x00280100, 'US', [bits]),
    words(0x00280101, 'US', [bitsStored]),
    words(0x00280102, 'US', [bitsStored - 1]),
    words(0x00280103, 'US', [signed ? 1 : 0]),
    ...padding(source, signed),
    { tag: PIXEL_DATA, vr: bits === 8 ? 'OB' : 'OW', value: sampleBytes(pixels, bitsStored, signed) },
  ];
  return { elements, photometric, signed, bitsStored, channels };
}

/** Pixel Padding Value and Range Limit: what lies outside the picture and is shown as its background. */
function padding(source: Source, signed: boolean): CopyElement[] {
  return [0x00280120, 0x00280121].flatMap((tag) => {
    const value = word(source, tag);
    return value === null ? [] : [words(tag, signed ? 'SS' : 'US', [value])];
  });
}

const GREY = ['MONOCHROME1', 'MONOCHROME2', 'PALETTE COLOR'];

/** Grey as in the source; decoded colour is red, green and blue whatever it was. */
function photometricOf(source: Source, channels: 1 | 3): string {
  const [stated = ''] = textsOf(source, 0x00280004, 'CS');
  if (channels === 3) return 'RGB';
  return GREY.includes(stated) ? stated : refuseUnusual('DICOM', 'a kind of grey that is not known');
}

/** Little endian, each sample cut to its bits and, where negative, filled with its sign. */
function sampleBytes({ data, bitsPerChannel }: StoredPixels, bitsStored: number, signed: boolean): Buffer {
  const mask = 2 ** bitsStored - 1;
  const sign = signed ? 2 ** (bitsStored - 1) : 0;
  const bytes = Buffer.alloc((data.length * bitsPerChannel) / 8);
  for (let at = 0; at < data.length; at++) {
    const cut = data[at]! & mask;
    const sample = cut & sign ? cut | ~mask : cut;
    if (bitsPerChannel === 8) bytes[at] = sample & 0xff;
    else {
      bytes[2 * at] = sample & 0xff;
      bytes[2 * at + 1] = (sample >> 8) & 0xff;
    }
  }
  return bytes;
}
