/** Paper and margins. ISO 216 A4 is 210 x 297 mm; US Letter is 8.5 x 11 inch. */
export interface PageGeometry {
  widthPt: number;
  heightPt: number;
  marginPt: number;
  /** Width between the margins. */
  contentWidthPt: number;
  topPt: number;
  /** Nothing but the footer lies below. */
  bottomPt: number;
  footerRulePt: number;
  footerBaselinePt: number;
}

export const PT_PER_MM = 72 / 25.4;
const MARGIN_PT = 15 * PT_PER_MM;

const PAPER = {
  A4: { widthPt: 595.28, heightPt: 841.89 },
  Letter: { widthPt: 612, heightPt: 792 },
} as const;

export function pageGeometry(paper: keyof typeof PAPER, footerTextPt: number): PageGeometry {
  const { widthPt, heightPt } = PAPER[paper];
  const footerBaselinePt = heightPt - MARGIN_PT;
  const footerRulePt = footerBaselinePt - footerTextPt - 3;
  return {
    widthPt,
    heightPt,
    marginPt: MARGIN_PT,
    contentWidthPt: widthPt - 2 * MARGIN_PT,
    topPt: MARGIN_PT,
    bottomPt: footerRulePt - 8,
    footerRulePt,
    footerBaselinePt,
  };
}

/** Space between columns. */
export const GUTTER_PT = 4.5 * PT_PER_MM;

/** Left edge and width of cells that span some of `units` equal columns. */
export function cell(
  totalPt: number,
  units: number,
  start: number,
  span: number,
): { xPt: number; widthPt: number } {
  const unitPt = (totalPt - GUTTER_PT * (units - 1)) / units;
  return { xPt: start * (unitPt + GUTTER_PT), widthPt: unitPt * span + GUTTER_PT * (span - 1) };
}
