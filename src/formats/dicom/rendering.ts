import type { Outcome } from '../../core/outcome.js';
import { LIMIT_PX } from '../format.js';
import { outcomeOf, refuseDamaged, refuseUnusual } from '../refusal.js';
import { findElement, type Source, sourceOf, textsOf, wordsOf } from './copy/source-values.js';
import { type Photometric, readShape } from './picture-shape.js';
import { readDicom } from './read-dicom.js';

/** How stored samples of one frame become what is shown (PS3.3, C.11): a plain value each, so that two can be compared. */
export interface Rendering {
  photometric: Photometric;
  bitsStored: number;
  /** Values of an unsigned or signed sample that were never part of the picture, both ends included. */
  padding: { from: number; to: number } | null;
  slope: number;
  intercept: number;
  /** The first window that is stored; in values after slope and intercept. */
  window: { centre: number; width: number; kind: WindowKind } | null;
  /** Three tables of 8 bits, from the first number on; only for palettes. */
  palette: { first: number; red: number[]; green: number[]; blue: number[] } | null;
  /** Doubts of the file about itself. */
  notes: string[];
}

export type WindowKind = 'LINEAR' | 'LINEAR_EXACT' | 'SIGMOID';

const KINDS: readonly string[] = ['LINEAR', 'LINEAR_EXACT', 'SIGMOID'];

/** @param frame counts from 1; attributes of that frame alone count too (PS3.3, C.7.6.16) */
export function readRendering(bytes: Uint8Array, frame: number): Outcome<Rendering> {
  const read = readDicom(bytes);
  if (read.kind !== 'kept') return read;
  return outcomeOf('DICOM', () => {
    const { photometric, signed, bitsStored } = readShape(read.value, LIMIT_PX);
    const source = sourceOf(read.value, frame);
    const window = windowOf(source);
    return {
      photometric,
      bitsStored,
      padding: paddingOf(source, signed),
      slope: decimalAt(source, 0x00281053) ?? 1,
      intercept: decimalAt(source, 0x00281052) ?? 0,
      window,
      palette: photometric === 'PALETTE COLOR' ? paletteOf(source) : null,
      notes: notesOn(source, photometric, window !== null),
    };
  });
}

/** The first of several values of a decimal string; null when there is none. */
function decimalAt(source: Source, tag: number): number | null {
  const [stated = ''] = textsOf(source, tag, 'DS');
  if (stated === '') return null;
  const value = Number(stated);
  return Number.isFinite(value) ? value : refuseDamaged('DICOM', 'a number for its grey values is broken');
}

/** A width below 1 has no meaning by C.11.2.1.2; 1 is a step. */
function windowOf(source: Source): Rendering['window'] {
  const [centre, width] = [decimalAt(source, 0x00281050), decimalAt(source, 0x00281051)];
  const [kind = 'LINEAR'] = textsOf(source, 0x00281056, 'CS');
  const least = kind === 'LINEAR' ? 1 : Number.MIN_VALUE;
  if (centre === null || width === null || width < least || !KINDS.includes(kind)) return null;
  return { centre, width, kind: kind as WindowKind };
}

/** Pixel Padding Value and its range limit (PS3.3, C.7.5.1.1.2), in the sign of the samples. */
function paddingOf(source: Source, signed: boolean): Rendering['padding'] {
  const [value, limit] = [0x00280120, 0x00280121].map((tag) => {
    const [word] = wordsOf(source, tag, 'US');
    return word !== undefined && signed && word > 0x7fff ? word - 0x10000 : word;
  });
  if (value === undefined) return null;
  const other = limit ?? value;
  return { from: Math.min(value, other), to: Math.max(value, other) };
}

const INVERSE_SHAPE: Partial<Record<Photometric, string>> = {
  MONOCHROME1: 'IDENTITY',
  MONOCHROME2: 'INVERSE',
};

function notesOn(source: Source, photometric: Photometric, windowed: boolean): string[] {
  const [shape] = textsOf(source, 0x20500020, 'CS');
  const [modality, voi] = [findElement(source, 0x00283000), findElement(source, 0x00283010)];
  return [
    ...(shape !== undefined && shape === INVERSE_SHAPE[photometric]
      ? [
          'The file contradicts itself about which end of its greys is white; check that the picture is not a negative.',
        ]
      : []),
    ...(modality?.items?.length || (voi?.items?.length && !windowed)
      ? ['The file holds a curve for its greys, which was not applied.']
      : []),
  ];
}

/** PS3.3, C.7.6.3.1.5: number of entries, first number, bits of an entry; entries of 16 bits keep their upper byte. */
function paletteOf(source: Source): Rendering['palette'] {
  const tables = [0, 1, 2].map((colour) => {
    const [count, first = 0, bits] = wordsOf(source, 0x00281101 + colour, 'US');
    const data = wordsOf(source, 0x00281201 + colour, 'OW');
    const entries = count === 0 ? 65_536 : (count ?? -1);
    const packed = bits === 8 && data.length === Math.ceil(entries / 2) && entries > 1;
    if ((bits !== 8 && bits !== 16) || !(packed || data.length === entries))
      return refuseUnusual('DICOM', 'a palette that is not read here');
    const values = packed ? data.flatMap((word) => [word & 0xff, word >>> 8]).slice(0, entries) : data;
    return {
      first,
      values: bits === 8 ? values.map((value) => value & 0xff) : values.map((value) => value >>> 8),
    };
  });
  const [red, green, blue] = tables as [(typeof tables)[0], (typeof tables)[0], (typeof tables)[0]];
  if (red.first !== green.first || red.first !== blue.first)
    refuseUnusual('DICOM', 'a palette that is not read here');
  return { first: red.first, red: red.values, green: green.values, blue: blue.values };
}
