import { isUpper, quadrantOf } from '../teeth.js';
import type { PointMm } from './polygon.js';

/**
 * From the tooth frame (x mesial, y buccal, mm) into pictures. The one rule that keeps sides right: with y up, the
 * sign of (mesial x buccal) is +1 in the upper right and lower left, -1 in the other two quadrants, for any rotation
 * of a direct occlusal view; one mirror reverses it, a second one restores it.
 */
export const parityOf = (fdi: number): 1 | -1 => (quadrantOf(fdi) % 2 === 1 ? 1 : -1);

/** The sign of (mesial x buccal) for two directions as they appear in a picture with y up. */
export const handedness = (mesial: PointMm, buccal: PointMm): number =>
  Math.sign(mesial.x * buccal.y - mesial.y * buccal.x);

export type Transform = (point: PointMm) => PointMm;

/**
 * Diagram pose, y up: buccal up in the upper jaw and down in the lower; mesial on the side where a periapical film
 * has it (right for the patient's right side). The signs come from the parity rule, so no tooth is ever mirrored.
 */
export function toDiagramPose(fdi: number): Transform {
  const buccalUp = isUpper(fdi) ? 1 : -1;
  const mesialRight = parityOf(fdi) * buccalUp;
  return ({ x, y }) => ({ x: x * mesialRight, y: y * buccalUp });
}

/**
 * A view as a camera sees it, y up: direct vision, or through one mirror, then turned counter-clockwise. At 0 degrees
 * buccal is up. `yDown: true` gives picture rows, for SVG and pixels.
 */
export function toothFrameToPicture(
  fdi: number,
  view: { mirror?: boolean; rotationDeg?: number; yDown?: boolean } = {},
): Transform {
  const mesial = parityOf(fdi) * (view.mirror ? -1 : 1);
  const angle = ((view.rotationDeg ?? 0) * Math.PI) / 180;
  const down = view.yDown ? -1 : 1;
  return ({ x, y }) => ({
    x: x * mesial * Math.cos(angle) - y * Math.sin(angle),
    y: (x * mesial * Math.sin(angle) + y * Math.cos(angle)) * down,
  });
}
