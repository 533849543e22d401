import { isPrimary, isUpper, placeOf } from './teeth.js';

/**
 * Average length from the crown to the root end, mm, shortest and longest root: crown plus root of the classic
 * dental-anatomy table (Wheeler and Ash tradition), read on an oral-anatomy teaching page; lower molars from memory.
 */
const AVERAGE_MM: Record<'upper' | 'lower', readonly (readonly [number, number])[]> = {
  upper: [
    [23.5, 23.5],
    [22, 22],
    [27, 27],
    [22.5, 22.5],
    [22.5, 22.5],
    [19.5, 20.5],
    [18, 19],
    [17.5, 17.5],
  ],
  lower: [
    [21.5, 21.5],
    [23.5, 23.5],
    [27, 27],
    [22.5, 22.5],
    [22.5, 22.5],
    [21.5, 21.5],
    [20, 20],
    [18, 18],
  ],
};

export const LENGTH_SOURCE =
  'averages of the classic dental-anatomy table (Wheeler and Ash tradition), with wide margins that are common practice, no source';

/** Published upper canines reach 38 mm, so the margin above is wide: 45%; below 40%. */
const LOWER_MARGIN = 0.6;
const UPPER_MARGIN = 1.45;

export interface LengthBand {
  averageMm: readonly [shortest: number, longest: number];
  /** Whole millimetres; outside them a length only deserves a second look. */
  leastMm: number;
  mostMm: number;
}

/** Null for primary teeth, whose roots shorten as they are shed. */
export function lengthBand(fdi: number): LengthBand | null {
  if (isPrimary(fdi)) return null;
  const averageMm = AVERAGE_MM[isUpper(fdi) ? 'upper' : 'lower'][placeOf(fdi) - 1] as readonly [
    number,
    number,
  ];
  return {
    averageMm,
    leastMm: Math.floor(averageMm[0] * LOWER_MARGIN),
    mostMm: Math.ceil(averageMm[1] * UPPER_MARGIN),
  };
}
