import { fitTo, smoothClosed } from './curves.js';
import { type Corners, OUTLINE_SHAPES, type OutlineShape } from './outline-shapes.js';
import { distanceBetween, distanceToBorder, isInside, type PointMm } from './polygon.js';
import { kindOf, toothSize } from './tooth-sizes.js';

const shapeOf = (fdi: number): OutlineShape =>
  (OUTLINE_SHAPES[kindOf(fdi)] ?? OUTLINE_SHAPES[kindOf(fdi).toUpperCase()]) as OutlineShape;

/** Crown seen from the occlusal side, tooth frame, mm, counter-clockwise; centred on the origin. */
export function toothOutline(fdi: number): PointMm[] {
  const { crown, shear } = shapeOf(fdi);
  const { crownMd, crownBl } = toothSize(fdi);
  return shaped(crown, crownMd, crownBl, shear, { x: 0, y: 0 });
}

/** The neck (cemento-enamel junction) under the crown, tooth frame, mm, counter-clockwise. */
export function cejOutline(fdi: number): PointMm[] {
  const { cej, shear } = shapeOf(fdi);
  const { cejMd, cejBl, cejCentre } = toothSize(fdi);
  return shaped(cej, cejMd, cejBl, shear / 2, cejCentre);
}

function shaped(corners: Corners, md: number, bl: number, shear: number, centre: PointMm): PointMm[] {
  const leaning = corners.map(([x, y]) => ({ x: (x * md) / 2 + (shear * y * bl) / 2, y: (y * bl) / 2 }));
  return fitTo(smoothClosed(leaning), md, bl, centre);
}

/** A smaller copy at one constant distance inside a smooth counter-clockwise outline. */
export function insetOutline(outline: readonly PointMm[], byMm: number): PointMm[] {
  const count = outline.length;
  return outline
    .map((point, at) => {
      const before = outline[(at + count - 1) % count] as PointMm;
      const after = outline[(at + 1) % count] as PointMm;
      const length = distanceBetween(before, after) || 1;
      return {
        x: point.x - ((after.y - before.y) / length) * byMm,
        y: point.y + ((after.x - before.x) / length) * byMm,
      };
    })
    .filter((point) => isInside(outline, point) && distanceToBorder(outline, point) > byMm * 0.97);
}

/** The same outline with its corners rounded at the scale of `stepMm`. */
export function roundCorners(outline: readonly PointMm[], stepMm: number): PointMm[] {
  return smoothClosed(resample(outline, stepMm), 5);
}

function resample(outline: readonly PointMm[], stepMm: number): PointMm[] {
  const kept: PointMm[] = [];
  let since = stepMm;
  outline.forEach((from, at) => {
    const to = outline[(at + 1) % outline.length] as PointMm;
    const length = distanceBetween(from, to);
    let along = stepMm - since;
    while (along < length) {
      kept.push({
        x: from.x + ((to.x - from.x) * along) / length,
        y: from.y + ((to.y - from.y) * along) / length,
      });
      along += stepMm;
    }
    since = length - along + stepMm;
  });
  return kept;
}
