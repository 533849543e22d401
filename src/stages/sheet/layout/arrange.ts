/** A panorama and anything as wide takes two columns. */
const WIDE_ASPECT = 1.7;

/** Cells of one row, in columns; `units` is how many columns the row has. */
export interface RowPlan<T> {
  units: number;
  cells: { item: T; start: number; span: number }[];
  /** A lone picture has its caption beside it. */
  captionBeside: boolean;
}

/**
 * Sets pictures in rows, in order: one alone with its caption beside it, two side by side, more in three columns.
 * @param aspect width over height of an item
 */
export function arrange<T>(items: readonly T[], aspect: (item: T) => number): RowPlan<T>[] {
  const wide = (item: T) => aspect(item) >= WIDE_ASPECT;
  if (items.length === 1)
    return [{ units: 3, captionBeside: true, cells: [{ item: items[0]!, start: 0, span: 2 }] }];
  if (items.length === 2 && !items.some(wide)) return [even(items)];
  const rows: RowPlan<T>[] = [];
  let used = 3;
  for (const item of items) {
    const span = wide(item) ? 2 : 1;
    if (used + span > 3) {
      rows.push({ units: 3, captionBeside: false, cells: [] });
      used = 0;
    }
    rows.at(-1)!.cells.push({ item, start: used, span });
    used += span;
  }
  return rows.map(calmed);
}

const even = <T>(items: readonly T[]): RowPlan<T> => ({
  units: items.length,
  captionBeside: false,
  cells: items.map((item, start) => ({ item, start, span: 1 })),
});

/** A wide picture that ends up alone in its row has its caption beside it, where the empty column would be. */
function calmed<T>(row: RowPlan<T>): RowPlan<T> {
  const [first] = row.cells;
  return row.cells.length === 1 && first?.span === 2 ? { ...row, captionBeside: true } : row;
}
