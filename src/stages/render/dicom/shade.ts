import { held, kept, type Outcome } from '../../../core/outcome.js';
import { type Rendering, readRendering } from '../../../formats/dicom/rendering.js';
import type { Pixels } from '../pixels.js';
import { throughWindow } from './window.js';

export interface Shaded {
  /** 8-bit grey, or colour as it is. */
  pixels: Pixels;
  /** What was done, in words fit for a sheet. */
  processing: string[];
  /** Doubts about the file, for the practice only. */
  notes: string[];
}

/**
 * What stored samples look like by the object's own attributes. With a stripped copy: held `pixels-changed` when the
 * copy would look different.
 * @param pixels samples as decoded; signed ones as two's complement
 * @param frame counts from 1
 */
export function shadeDicom(
  pixels: Pixels,
  original: Uint8Array,
  frame: number,
  stripped: Uint8Array | null,
): Outcome<Shaded> {
  const rendering = readRendering(original, frame);
  if (rendering.kind !== 'kept') return rendering;
  if (stripped) {
    const ofCopy = readRendering(stripped, 1);
    if (ofCopy.kind !== 'kept' || !looksAlike(rendering.value, ofCopy.value))
      return held({ code: 'pixels-changed' });
  }
  const { photometric, palette, notes } = rendering.value;
  if (palette) return kept({ pixels: throughPalette(pixels, palette), processing: [], notes });
  if (photometric !== 'MONOCHROME1' && photometric !== 'MONOCHROME2')
    return kept({ pixels, processing: [], notes });
  return kept({ ...shadeGrey(pixels, rendering.value), notes });
}

/** Colour is decoded to red, green and blue, whatever the object calls its own. */
function looksAlike(original: Rendering, copy: Rendering): boolean {
  const plain = ({ notes: _, photometric, ...rest }: Rendering): string =>
    JSON.stringify({ ...rest, photometric: photometric.startsWith('YBR') ? 'RGB' : photometric });
  return plain(original) === plain(copy);
}

const BY_FULL_RANGE = 'grey range set from the darkest to the brightest value of the picture, linear';

/** One table for every sample there can be: rescale, window, inversion (PS3.3, C.11.1 and C.11.2; C.7.6.3.1.2). */
function shadeGrey(pixels: Pixels, rendering: Rendering): Pick<Shaded, 'pixels' | 'processing'> {
  const { photometric, bitsStored, window, padding, slope, intercept } = rendering;
  const inverted = photometric === 'MONOCHROME1';
  const invertedWords = inverted ? ['greys inverted, as the file says'] : [];
  const identity = pixels.bitsPerChannel === 8 && bitsStored === 8 && !window;
  const samples = samplesOf(pixels);
  const range = window ? null : identity ? { low: 0, high: 255 } : usedRange(samples, padding);
  const show = (sample: number): number => {
    if (padding && sample >= padding.from && sample <= padding.to) return 0;
    const value = sample * slope + intercept;
    const level = window ? throughWindow(value, window) : alongRange(sample, range!, slope);
    return Math.round(inverted ? 255 - level : level);
  };
  const processing = window
    ? [`greys shown by the window stored in the file (level ${window.centre}, width ${window.width})`]
    : identity
      ? []
      : [BY_FULL_RANGE];
  return { pixels: mapped(pixels, samples, show), processing: [...processing, ...invertedWords] };
}

type Samples = Uint8Array | Uint16Array | Int16Array;
interface Range {
  low: number;
  high: number;
}

/** Linear between the ends; a negative slope turns the order of values round. */
function alongRange(sample: number, { low, high }: Range, slope: number): number {
  if (high === low) return 0;
  const level = ((Math.min(high, Math.max(low, sample)) - low) / (high - low)) * 255;
  return slope < 0 ? 255 - level : level;
}

function samplesOf({ data, bitsPerChannel, signed }: Pixels): Samples {
  if (bitsPerChannel === 8) return data;
  const aligned = data.byteOffset % 2 === 0 ? data : Buffer.from(data);
  const { buffer, byteOffset, byteLength } = aligned;
  return signed
    ? new Int16Array(buffer, byteOffset, byteLength >> 1)
    : new Uint16Array(buffer, byteOffset, byteLength >> 1);
}

function usedRange(samples: Samples, padding: Rendering['padding']): Range {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let at = 0; at < samples.length; at++) {
    const sample = samples[at]!;
    if (padding && sample >= padding.from && sample <= padding.to) continue;
    if (sample < low) low = sample;
    if (sample > high) high = sample;
  }
  return high >= low ? { low, high } : { low: 0, high: 0 };
}

function mapped(pixels: Pixels, samples: Samples, show: (sample: number) => number): Pixels {
  const signed = samples instanceof Int16Array;
  const table = Uint8Array.from({ length: pixels.bitsPerChannel === 8 ? 256 : 65_536 }, (_, code) =>
    show(signed && code > 0x7fff ? code - 0x10000 : code),
  );
  const data = Buffer.alloc(samples.length);
  for (let at = 0; at < samples.length; at++) data[at] = table[samples[at]! & 0xffff]!;
  return { ...pixels, data, bitsPerChannel: 8, signed: false };
}

/** Numbers below the first entry take the first, above the last the last (PS3.3, C.7.6.3.1.5). */
function throughPalette(pixels: Pixels, palette: NonNullable<Rendering['palette']>): Pixels {
  const samples = samplesOf(pixels);
  const data = Buffer.alloc(samples.length * 3);
  const last = palette.red.length - 1;
  for (let at = 0; at < samples.length; at++) {
    const entry = Math.min(last, Math.max(0, samples[at]! - palette.first));
    data[3 * at] = palette.red[entry]!;
    data[3 * at + 1] = palette.green[entry]!;
    data[3 * at + 2] = palette.blue[entry]!;
  }
  return { ...pixels, data, channels: 3, bitsPerChannel: 8, colour: 'rgb', signed: false };
}
