/**
 * How stored pixels must be moved to stand upright: first mirrored left to right (or not), then turned clockwise.
 * In this order because that is how sharp applies flop and rotate, whatever order they are called in.
 */
export interface Pose {
  mirror: boolean;
  turnDegrees: 0 | 90 | 180 | 270;
}

/**
 * Orientation tag 1-8 (TIFF 6.0, tag 274; EXIF 2.32 table 4): where row 0 and column 0 of the stored pixels lie in
 * the scene. 1 top-left, 2 top-right, 3 bottom-right, 4 bottom-left, 5 left-top, 6 right-top, 7 right-bottom,
 * 8 left-bottom.
 */
const UPRIGHT: readonly Pose[] = [
  { mirror: false, turnDegrees: 0 },
  { mirror: true, turnDegrees: 0 },
  { mirror: false, turnDegrees: 180 },
  { mirror: true, turnDegrees: 180 },
  { mirror: true, turnDegrees: 270 },
  { mirror: false, turnDegrees: 90 },
  { mirror: true, turnDegrees: 90 },
  { mirror: false, turnDegrees: 270 },
];

/** The pose an orientation tag asks for; a value outside 1-8 means "as stored", as TIFF readers take it. */
export const uprightPose = (orientation: number): Pose => UPRIGHT[orientation - 1] ?? UPRIGHT[0]!;

/**
 * The same pose seen in a mirror: what it gives, then flipped left to right. A flip after a turn equals the
 * opposite turn after a flip, so the result is again one mirror and one turn. Twice gives the first pose back.
 */
export function flipped(pose: Pose): Pose {
  const back = ((360 - pose.turnDegrees) % 360) as Pose['turnDegrees'];
  return { mirror: !pose.mirror, turnDegrees: back };
}

/** True when width and height change places. */
export const swapsSides = (pose: Pose): boolean => pose.turnDegrees % 180 === 90;
