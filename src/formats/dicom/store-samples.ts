import { viewOf } from '../bytes.js';
import type { StoredPixels } from '../format.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import { interleave, toRgb, widenHalfColour } from './colour.js';
import type { PictureShape } from './picture-shape.js';

/** Samples of one frame as they came out of the file or a codec. */
export interface RawSamples {
  /** Little endian. */
  bytes: Uint8Array;
  bytesPerSample: 1 | 2;
  planar: boolean;
  /** As the samples stand here, after what a codec undid. */
  colour: 'RGB' | 'YBR_FULL' | 'YBR_FULL_422' | null;
  /** Lowest bit of a sample that belongs to the picture. */
  shift: number;
}

/** Refuses, for `outcomeOf`, a number of samples other than the header's. */
export function storeSamples(raw: RawSamples, shape: PictureShape): StoredPixels {
  const { widthPx, heightPx, samples: channels } = shape;
  const perPixel = raw.colour === 'YBR_FULL_422' ? 2 : channels;
  if (raw.bytes.length !== widthPx * heightPx * perPixel * raw.bytesPerSample)
    refuseDamaged('DICOM', 'a part of the picture is missing or broken');
  const words = raw.bytesPerSample === 1 ? raw.bytes : wordsOf(raw.bytes);
  const data =
    raw.colour === null ? greySamples(words, shape, raw.shift) : colourSamples(words, raw, widthPx);
  return { data, widthPx, heightPx, channels, bitsPerChannel: data.BYTES_PER_ELEMENT === 1 ? 8 : 16 };
}

/** Every machine that Node runs on here is little endian. */
function wordsOf(bytes: Uint8Array): Uint16Array {
  const aligned = bytes.byteOffset % 2 === 0 ? bytes : new Uint8Array(bytes);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, aligned.length >> 1);
}

/** Bits above those stored can hold an overlay or anything else (PS3.5, 8.1.1), so they are cleared. */
function greySamples(
  words: Uint8Array | Uint16Array,
  { bitsStored, signed }: PictureShape,
  shift: number,
): StoredPixels['data'] {
  const mask = (1 << bitsStored) - 1;
  if (signed) {
    const unused = 32 - bitsStored;
    return Int16Array.from(words, (word) => ((word >> shift) << unused) >> unused);
  }
  const into = bitsStored > 8 ? new Uint16Array(words.length) : new Uint8Array(words.length);
  for (let at = 0; at < words.length; at++) into[at] = (words[at]! >> shift) & mask;
  return into;
}

function colourSamples(
  words: Uint8Array | Uint16Array,
  { colour, planar }: RawSamples,
  widthPx: number,
): Uint8Array | Uint16Array {
  if (colour === 'RGB') return planar ? interleave(words) : copyOf(words);
  if (words instanceof Uint16Array) return refuseUnusual('DICOM', 'a kind of colour that is not read here');
  if (colour === 'YBR_FULL_422') return toRgb(widenHalfColour(words, widthPx));
  return toRgb(planar ? interleave(words) : words);
}

/** `slice` of a Buffer is the same memory. */
const copyOf = (words: Uint8Array | Uint16Array): Uint8Array | Uint16Array =>
  words instanceof Uint16Array ? new Uint16Array(words) : new Uint8Array(words);

/** Native pixels of the other byte order: words turned, also those that hold two pixels of 8 bits (PS3.5, 8.1.1). */
export const turned = (bytes: Uint8Array): Uint8Array =>
  bytes.length % 2 === 0
    ? Buffer.from(viewOf(bytes)).swap16()
    : refuseUnusual('DICOM', 'an odd number of bytes in the other order');
