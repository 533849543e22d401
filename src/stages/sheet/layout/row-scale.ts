/** Size in millimetres of a calibrated picture. */
export interface SizeMm {
  width: number;
  height: number;
}

/** A bar shorter or longer than this says nothing or does not fit a heading line. */
const BAR_PT = { least: 4, most: 90 };
const BAR_MM = 5;
/** Below this share of its cell a picture is too small to be worth the common scale. */
const LEAST_FILL = 0.4;

/**
 * Points per millimetre that every picture of a row shares: the smallest that fits the largest receptor. Null when
 * one of them is not calibrated, or when one scale would make a bar or a picture that cannot be read.
 */
export function rowScale(
  cells: readonly { size: SizeMm | null; widthPt: number }[],
  maxHeightPt: number,
): { ptPerMm: number; barPt: number } | null {
  const sizes: { size: SizeMm; widthPt: number }[] = [];
  for (const { size, widthPt } of cells) {
    if (size === null || !(size.width > 0 && size.height > 0)) return null;
    sizes.push({ size, widthPt });
  }
  const factors = sizes.map(({ size, widthPt }) => Math.min(widthPt / size.width, maxHeightPt / size.height));
  const ptPerMm = Math.min(...factors);
  const barPt = ptPerMm * BAR_MM;
  if (!Number.isFinite(ptPerMm) || barPt < BAR_PT.least || barPt > BAR_PT.most) return null;
  if (factors.some((own) => ptPerMm / own < LEAST_FILL)) return null;
  return { ptPerMm, barPt };
}
