import { COVER_GREY } from '../../../core/cover-grey.js';
import { findElement, itemSource, type Source, textsOf, wordsOf } from './source-values.js';

/**
 * The stored value that a cover is painted with: the one that shows, by the copy's own attributes (PS3.3, C.11), nearest
 * to `COVER_GREY`, the grey of covers in the display picture. Without a window only values of the picture's own range
 * are chosen, so that the range by which it is shown stays. Never a value of padding, which shows as background.
 * @param samples of a whole copy: little endian, as this writer makes them
 */
export function flatSample(source: Source, samples: Buffer): number {
  const [photometric = ''] = textsOf(source, 0x00280004, 'CS');
  if (photometric === 'RGB') return wordAt(source, 0x00280100) === 16 ? COVER_GREY * 257 : COVER_GREY;
  if (photometric === 'PALETTE COLOR') return greyestEntry(source);
  const isPadding = paddingOf(source);
  const range = rangeOf(source, samples, isPadding);
  const show = shown(source, photometric, range);
  let best = range.from;
  let least = Number.POSITIVE_INFINITY;
  for (let value = range.from; value <= range.to; value++) {
    const distance = Math.abs(show(value) - COVER_GREY);
    if (distance < least && !isPadding(value)) [best, least] = [value, distance];
  }
  return best;
}

interface Range {
  from: number;
  to: number;
}

const isSigned = (source: Source): boolean => wordAt(source, 0x00280103) === 1;
const wordAt = (source: Source, tag: number): number | null => wordsOf(source, tag, 'US')[0] ?? null;
const decimalAt = (source: Source, tag: number): number | null => {
  const [first] = textsOf(source, tag, 'DS');
  return first === undefined || first === '' ? null : Number(first);
};

/** Pixel Padding Value and its range limit (PS3.3, C.7.5.1.1.2). */
function paddingOf(source: Source): (value: number) => boolean {
  const signed = isSigned(source);
  const [value, limit] = [0x00280120, 0x00280121].map((tag) => {
    const word = wordAt(source, tag);
    return word !== null && signed && word > 0x7fff ? word - 0x10000 : word;
  });
  if (value === undefined || value === null) return () => false;
  const [from, to] = [Math.min(value, limit ?? value), Math.max(value, limit ?? value)];
  return (sample) => sample >= from && sample <= to;
}

/** Stored values to choose from: all that the bits allow when something fixed shows them, else those that occur. */
function rangeOf(source: Source, samples: Buffer, isPadding: (value: number) => boolean): Range {
  const signed = isSigned(source);
  const bits = wordAt(source, 0x00280101) ?? 8;
  const wide = wordAt(source, 0x00280100) === 16;
  const fixed = decimalAt(source, 0x00281050) !== null || findElement(source, 0x00283010) !== null;
  // eight bits of eight are shown as they are
  if (fixed || (bits === 8 && !wide))
    return signed ? { from: -(2 ** (bits - 1)), to: 2 ** (bits - 1) - 1 } : { from: 0, to: 2 ** bits - 1 };
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let at = 0; at < samples.length; at += wide ? 2 : 1) {
    const value = wide ? (signed ? samples.readInt16LE(at) : samples.readUInt16LE(at)) : samples[at]!;
    if (isPadding(value)) continue;
    if (value < from) from = value;
    if (value > to) to = value;
  }
  return to >= from ? { from, to } : { from: 0, to: 0 };
}

/** From a stored value to 0-255, as it is displayed: modality, then window or table or the whole range, then inversion. */
function shown(source: Source, photometric: string, range: Range): (value: number) => number {
  const modality = modalityTransform(source);
  const voi = voiTransform(source, modality, range);
  // whatever a Presentation LUT Shape says against it
  const inverse = photometric === 'MONOCHROME1';
  return (value) => (inverse ? 255 - voi(modality(value)) : voi(modality(value)));
}

function modalityTransform(source: Source): (value: number) => number {
  const [item] = findElement(source, 0x00283000)?.items ?? [];
  const table = item ? tableTransform(itemSource(source, item)) : null;
  if (table) return table.at;
  const slope = decimalAt(source, 0x00281053) ?? 1;
  const intercept = decimalAt(source, 0x00281052) ?? 0;
  return (value) => value * slope + intercept;
}

function voiTransform(
  source: Source,
  modality: (value: number) => number,
  { from, to }: Range,
): (value: number) => number {
  const centre = decimalAt(source, 0x00281050);
  const width = decimalAt(source, 0x00281051);
  if (centre !== null && width !== null)
    return windowTransform(centre, width, textsOf(source, 0x00281056, 'CS')[0]);
  const [item] = findElement(source, 0x00283010)?.items ?? [];
  const table = item ? tableTransform(itemSource(source, item)) : null;
  if (table) return (value) => (table.at(value) * 255) / table.most;
  const [low, high] = [modality(from), modality(to)].sort((a, b) => a - b) as [number, number];
  return (value) => (high > low ? (255 * (value - low)) / (high - low) : 0);
}

/** PS3.3, C.11.2.1.2 and C.11.2.1.3. */
function windowTransform(centre: number, width: number, kind: string | undefined): (value: number) => number {
  if (kind === 'SIGMOID') return (value) => 255 / (1 + Math.exp((-4 * (value - centre)) / width));
  const exact = kind === 'LINEAR_EXACT';
  const [middle, span] = exact ? [centre, width] : [centre - 0.5, width - 1];
  return (value) => {
    if (value <= middle - span / 2) return 0;
    if (value > middle + span / 2) return 255;
    return ((value - middle) / span + 0.5) * 255;
  };
}

function tableTransform(item: Source): { at: (value: number) => number; most: number } | null {
  const [count = 0, firstWord = 0, bits = 16] = wordsOf(item, 0x00283002, 'US');
  const signed = findElement(item, 0x00283002)?.vr === 'SS';
  const first = signed && firstWord > 0x7fff ? firstWord - 0x10000 : firstWord;
  const data = wordsOf(item, 0x00283006, 'OW');
  const last = (count === 0 ? 65_536 : count) - 1;
  if (data.length <= last) return null;
  return {
    at: (value) => data[Math.min(last, Math.max(0, Math.round(value) - first))]!,
    most: 2 ** bits - 1,
  };
}

/** The entry of a palette nearest to the flat grey. */
function greyestEntry(source: Source): number {
  const [count = 0, first = 0, bits = 16] = wordsOf(source, 0x00281101, 'US');
  const palettes = [0x00281201, 0x00281202, 0x00281203].map((tag) => wordsOf(source, tag, 'OW'));
  const wanted = (COVER_GREY / 255) * (2 ** bits - 1);
  let [best, least] = [0, Number.POSITIVE_INFINITY];
  for (let entry = 0; entry < (count === 0 ? 65_536 : count); entry++) {
    const distance = palettes.reduce((sum, palette) => sum + Math.abs((palette[entry] ?? 0) - wanted), 0);
    if (distance < least) [best, least] = [entry, distance];
  }
  return best + first;
}
