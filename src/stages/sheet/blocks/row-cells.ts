import type { PictureRecord } from '../../../trade/case-record.js';
import { isRadiograph } from '../../../trade/views.js';
import { LEAST_CELL_PT, type RowPlan } from '../layout/arrange.js';
import { fitInCell } from '../layout/fit.js';
import type { Tag } from '../layout/marks.js';
import { GUTTER_PT } from '../layout/page.js';
import { rowScale, type SizeMm } from '../layout/row-scale.js';

/** More white than this beside each picture would tear a row apart. */
const MOST_SPARE_PT = 40;

/** A picture, its figure number and the elements it stands under. */
export interface Figure {
  number: number;
  picture: PictureRecord;
  figure: Tag;
  caption: Tag;
}

export interface RowSpec {
  plan: RowPlan<Figure>;
  widthPt: number;
  maxHeightPt: number;
  beforePt: number;
}

/** True when the row shares one scale; decided once, so that captions stay true when the row shrinks. */
export const isToScale = (spec: RowSpec): boolean => scaleOf(spec, spec.maxHeightPt) !== null;

/**
 * Cells with the size of their pictures and the width of their captions. Where all pictures of a row are equally
 * narrow the cells shrink to them and stay at the left of their columns, so that rows line up; with much space to
 * spare they stand side by side.
 */
export function placedCells(spec: RowSpec, ptPerMm: number | null, maxHeightPt: number) {
  const { cells, columns } = spec.plan;
  const sized = cells.map(({ item, xPt, widthPt }) => ({
    item,
    xPt,
    widthPt,
    captionPt: widthPt,
    size: shownSize(item.picture, ptPerMm, widthPt, maxHeightPt),
  }));
  const first = sized[0]!.size;
  const alike = sized.every(
    ({ size }) => Math.abs(size.widthPt - first.widthPt) < 1 && Math.abs(size.heightPt - first.heightPt) < 1,
  );
  if (!alike || columns === 0 || first.widthPt < LEAST_CELL_PT) return sized;
  return sized.map((cell, index) => {
    const { widthPt } = cell.size;
    return cell.widthPt - widthPt > MOST_SPARE_PT
      ? { ...cell, xPt: index * (widthPt + GUTTER_PT), widthPt, captionPt: widthPt }
      : { ...cell, widthPt };
  });
}

export function scaleOf(spec: RowSpec, maxHeightPt: number) {
  const { cells } = spec.plan;
  if (!cells.every(({ item }) => isRadiograph(item.picture.view))) return null;
  return rowScale(
    cells.map(({ item, widthPt }) => ({ size: sizeMm(item.picture), widthPt })),
    maxHeightPt,
  );
}

function sizeMm({ scale, widthPx, heightPx }: PictureRecord): SizeMm | null {
  return scale && { width: widthPx * scale.mmPerPxX, height: heightPx * scale.mmPerPxY };
}

function shownSize(picture: PictureRecord, ptPerMm: number | null, widthPt: number, maxHeightPt: number) {
  const size = sizeMm(picture);
  if (ptPerMm !== null && size !== null)
    return { widthPt: size.width * ptPerMm, heightPt: size.height * ptPerMm };
  const cellPt = { xPt: 0, yPt: 0, widthPt, heightPt: maxHeightPt };
  return fitInCell({ width: picture.widthPx, height: picture.heightPx }, cellPt);
}
