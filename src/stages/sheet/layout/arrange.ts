import { GUTTER_PT } from './page.js';

/** A panorama and anything as wide gets a wider cell than its neighbours. */
const WIDE_ASPECT = 1.7;
/** Narrower, and a caption falls apart. */
export const LEAST_CELL_PT = 108;

/** Cells of one row, from left to right, in points from the row's left edge. */
export interface RowPlan<T> {
  cells: { item: T; xPt: number; widthPt: number }[];
  /** How many equal columns the row's grid has; 0 when cells follow their pictures' shapes. */
  columns: number;
  /** A lone picture has its caption beside it. */
  captionBeside: boolean;
}

/**
 * Sets pictures in rows, in order: one alone with its caption beside it, two side by side, more in three columns. A
 * row with a wide picture gives each a width by its shape, so that all stand equally high.
 * @param aspect width over height of an item
 * `inARow` is how many stand side by side at most; `grid` keeps that many columns even for two pictures.
 */
export function arrange<T>(
  items: readonly T[],
  aspect: (item: T) => number,
  totalPt: number,
  maxHeightPt: number,
  { inARow = 3, grid = false }: { inARow?: number; grid?: boolean } = {},
): RowPlan<T>[] {
  const columns = grid ? inARow : Math.min(items.length, inARow);
  const rows: RowPlan<T>[] = [];
  for (let at = 0; at < items.length; at += inARow) {
    const row = items.slice(at, at + inARow);
    if (items.length === 1) rows.push(alone(row[0]!, totalPt));
    else if (row.some((item) => aspect(item) >= WIDE_ASPECT))
      rows.push(byShape(row, aspect, totalPt, maxHeightPt));
    else rows.push(equal(row, columns, totalPt));
  }
  return rows;
}

/** Two of three columns; the caption stands in the third. */
function alone<T>(item: T, totalPt: number): RowPlan<T> {
  const widthPt = ((totalPt - 2 * GUTTER_PT) / 3) * 2 + GUTTER_PT;
  return { columns: 1, captionBeside: true, cells: [{ item, xPt: 0, widthPt }] };
}

function equal<T>(row: readonly T[], columns: number, totalPt: number): RowPlan<T> {
  const widthPt = (totalPt - GUTTER_PT * (columns - 1)) / columns;
  const cells = row.map((item, index) => ({ item, xPt: index * (widthPt + GUTTER_PT), widthPt }));
  return { columns, captionBeside: false, cells };
}

function byShape<T>(
  row: readonly T[],
  aspect: (item: T) => number,
  totalPt: number,
  maxHeightPt: number,
): RowPlan<T> {
  const freePt = totalPt - GUTTER_PT * (row.length - 1);
  const shapes = row.map((item) => Math.min(Math.max(aspect(item), 0.7), 3));
  const heightPt = Math.min(maxHeightPt, freePt / shapes.reduce((sum, shape) => sum + shape, 0));
  const wanted = shapes.map((shape) => Math.max(LEAST_CELL_PT, shape * heightPt));
  const tooMuch = Math.max(1, wanted.reduce((sum, widthPt) => sum + widthPt, 0) / freePt);
  let xPt = 0;
  const cells = row.map((item, index) => {
    const cell = { item, xPt, widthPt: wanted[index]! / tooMuch };
    xPt += cell.widthPt + GUTTER_PT;
    return cell;
  });
  return { columns: 0, captionBeside: false, cells };
}
