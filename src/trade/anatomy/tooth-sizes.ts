import { isPrimary, isUpper, placeOf } from '../teeth.js';
import type { PointMm } from './polygon.js';

/** Millimetres in the tooth frame: md = mesiodistal (x), bl = buccolingual (y). */
export interface ToothSize {
  crownMd: number;
  crownBl: number;
  cejMd: number;
  cejBl: number;
  /** Centre of the outline at the cemento-enamel junction, seen from the centre of the crown. */
  cejCentre: PointMm;
}

/** Key of a tooth kind: U upper, L lower, with the place; small letters for primary teeth. */
export function kindOf(fdi: number): string {
  const jaw = isUpper(fdi) ? 'U' : 'L';
  return `${isPrimary(fdi) ? jaw.toLowerCase() : jaw}${placeOf(fdi)}`;
}

type Row = [crownMd: number, crownBl: number, cejMd: number, cejBl: number, cejX: number, cejY: number];

/**
 * Averages of the classic dental-anatomy tables (Wheeler and Ash tradition). Read on oral-anatomy teaching pages:
 * crown and MD at the CEJ of U1, U2, U5, U6, all of L3. The other sizes are from memory of the same tables. The
 * place of the CEJ under the crown is from memory: lower crowns lean to the lingual over their roots.
 */
const SIZES: Record<string, Row> = {
  U1: [8.5, 7.0, 7.0, 6.0, 0, -0.2],
  U2: [6.5, 6.0, 5.0, 5.0, 0, -0.2],
  U3: [7.5, 8.0, 5.5, 7.0, 0, -0.1],
  U4: [7.0, 9.0, 5.0, 8.0, 0, 0],
  U5: [7.0, 9.0, 5.0, 8.0, 0, 0],
  U6: [10.0, 11.0, 8.0, 10.0, 0, 0.05],
  U7: [9.0, 11.0, 7.0, 10.0, 0, 0],
  U8: [8.5, 10.0, 6.5, 9.5, 0, 0],
  L1: [5.0, 6.0, 3.5, 5.3, 0, 0],
  L2: [5.5, 6.5, 4.0, 5.8, 0, 0],
  L3: [7.0, 7.5, 5.5, 7.0, 0.2, 0],
  L4: [7.0, 7.5, 5.0, 6.5, 0, 0.2],
  L5: [7.0, 8.0, 5.0, 7.0, 0, 0.1],
  L6: [11.0, 10.5, 9.0, 9.0, 0.3, 0],
  L7: [10.5, 10.0, 8.0, 9.0, 0.2, 0],
  L8: [10.0, 9.5, 7.5, 9.0, 0.2, 0],
  u1: [6.5, 5.0, 4.5, 4.0, 0, -0.1],
  u2: [5.1, 4.0, 3.7, 3.5, 0, -0.1],
  u3: [7.0, 7.0, 5.1, 5.5, 0, -0.1],
  u4: [7.3, 8.5, 5.2, 6.9, 0, 0],
  u5: [8.2, 10.0, 6.4, 8.3, 0, 0],
  l1: [4.2, 4.0, 3.0, 3.5, 0, 0],
  l2: [4.1, 4.0, 3.0, 3.5, 0, 0],
  l3: [5.0, 4.8, 3.7, 4.0, 0, 0],
  l4: [7.7, 7.0, 6.5, 5.3, 0.1, 0],
  l5: [9.9, 8.7, 7.2, 6.4, 0.2, 0],
};

/** Of any of the 52 teeth. */
export function toothSize(fdi: number): ToothSize {
  const [crownMd, crownBl, cejMd, cejBl, x, y] = SIZES[kindOf(fdi)] as Row;
  return { crownMd, crownBl, cejMd, cejBl, cejCentre: { x, y } };
}
