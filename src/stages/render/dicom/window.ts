/** A window on grey values, in the numbers of DICOM PS3.3, C.11.2. */
export interface GreyWindow {
  centre: number;
  /** At least 1 for LINEAR, above 0 for the others. */
  width: number;
  kind: 'LINEAR' | 'LINEAR_EXACT' | 'SIGMOID';
}

/** From a value to 0 (black) to 255 (white), not rounded: PS3.3, C.11.2.1.2 and C.11.2.1.3. */
export function throughWindow(value: number, { centre, width, kind }: GreyWindow): number {
  if (kind === 'SIGMOID') return 255 / (1 + Math.exp((-4 * (value - centre)) / width));
  const middle = kind === 'LINEAR' ? centre - 0.5 : centre;
  const span = kind === 'LINEAR' ? width - 1 : width;
  if (value <= middle - span / 2) return 0;
  if (value > middle + span / 2) return 255;
  return ((value - middle) / span + 0.5) * 255;
}
