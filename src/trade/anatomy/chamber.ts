import { isPrimary } from '../teeth.js';
import { ellipse } from './curves.js';
import { cejOutline, insetOutline, roundCorners } from './outlines.js';
import type { PlacedOrifice } from './place-orifices.js';
import { clipTo, hullOf, type PointMm } from './polygon.js';
import { kindOf, toothSize } from './tooth-sizes.js';

const LEAST_GROWTH_MM = 0.4;
/** Left of the access outside every orifice mark, so that both lines can be told apart in print. */
const RIM_MM = 0.06;
const FLOOR_MARGIN_MM = 0.02;
const ROUNDED_AT_MM = 0.18;

/**
 * Pulp horns that the access of an upper incisor must take in (from memory): they make its outline a triangle with
 * the base towards the incisal edge and the point to the cingulum.
 */
const HORNS: Record<string, { xMm: number; yMm: number; radiusMm: number }> = {
  U1: { xMm: 0.95, yMm: 0.35, radiusMm: 0.35 },
  U2: { xMm: 0.6, yMm: 0.25, radiusMm: 0.35 },
};

/**
 * The access outline: hull of the recorded orifices, grown by 0.4 mm or the half-width of the orifice, whichever is
 * more. For three canals of an upper first molar this gives the published size of a classical access (see tests).
 */
export function accessOutline(fdi: number, orifices: readonly PlacedOrifice[]): PointMm[] {
  const horns = orifices.length === 1 && !orifices[0]?.slit ? HORNS[kindOf(fdi)] : undefined;
  const extra = horns
    ? [1, -1].flatMap((side) =>
        ellipse({ x: side * horns.xMm, y: horns.yMm }, horns.radiusMm, horns.radiusMm),
      )
    : [];
  return hullOf([...orifices.flatMap((orifice) => grown(orifice, LEAST_GROWTH_MM, RIM_MM)), ...extra]);
}

/** The mark's outline, at least `leastMm` from its centre and `marginMm` outside itself. */
function grown(orifice: PlacedOrifice, leastMm: number, marginMm: number): PointMm[] {
  if (!orifice.slit) {
    return ellipse(
      orifice,
      Math.max(orifice.rx + marginMm, leastMm),
      Math.max(orifice.ry + marginMm, leastMm),
    );
  }
  const half = Math.max(orifice.rx + marginMm, leastMm);
  return orifice.slit.flatMap((point) => ellipse(point, half, half, 12));
}

/**
 * Wall at the neck, the same all round (law of the CEJ, Krasner and Rankow, J Endod 2004; mm from memory, thinner in
 * slender and primary teeth).
 */
export function wallMm(fdi: number): number {
  if (isPrimary(fdi)) return 0.8;
  const { cejMd } = toothSize(fdi);
  if (cejMd >= 6.5) return 1.6;
  return cejMd >= 4.5 ? 1.2 : 0.9;
}

/**
 * The chamber floor: a copy of the neck outline at one constant distance inside it (law of concentricity), as far as
 * the access shows it, so that the orifices lie at its rim and in its angles (laws of orifice location). Empty when
 * fewer than two canals are recorded: one canal has no floor.
 */
export function chamberFloor(fdi: number, orifices: readonly PlacedOrifice[]): PointMm[] {
  const cShaped = orifices.some((orifice) => orifice.slit);
  if (orifices.length < 2 && !cShaped) return [];
  const seen = cShaped
    ? accessOutline(fdi, orifices)
    : hullOf(orifices.flatMap((orifice) => grown(orifice, 0, FLOOR_MARGIN_MM)));
  return roundCorners(clipTo(seen, insetOutline(cejOutline(fdi), wallMm(fdi))), ROUNDED_AT_MM);
}
