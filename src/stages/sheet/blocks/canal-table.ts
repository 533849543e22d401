import type { CanalEntry } from '../../../trade/visit-document.js';
import { INK, LINE, type Mark, QUIET, type Tag, tag } from '../layout/marks.js';
import { type Built, NOTHING, type Piece } from '../layout/piece.js';
import { paragraphPieces, run, textBlock } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { clause, NBSP, withUnit } from '../words/stage-words.js';
import type { BlockContext } from './block-context.js';
import { sectionHeading } from './heading.js';

/** Up to this many rows move whole. */
const WHOLE_ROWS = 12;
const CELL_GAP_PT = 9;
const PAD_PT = 3;
const UNRECORDED = 'not recorded';

interface Column {
  head: string;
  /** Share of the width. */
  share: number;
  text(canal: CanalEntry): string;
}

const COLUMNS: readonly Column[] = [
  { head: 'Canal', share: 0.09, text: (canal) => canal.canal },
  { head: 'Working length', share: 0.345, text: workingLength },
  { head: 'Size / taper', share: 0.18, text: sizeAndTaper },
  { head: 'Filled', share: 0.385, text: filling },
];

/** "20.5 mm from MB cusp tip": a length without its reference says little. */
function workingLength({ length, reference }: CanalEntry): string {
  if (length === null) return UNRECORDED;
  const from = reference === null ? `, reference ${UNRECORDED}` : ` from ${clause(reference)}`;
  return `${withUnit(length, 'mm', decimals(length))}${from}`;
}

/** 20.5 stays, 21 becomes 21.0, 20.25 is not rounded away. */
const decimals = (length: number): number => Math.max(1, (String(length).split('.')[1] ?? '').length);

function sizeAndTaper({ size, taper }: CanalEntry): string {
  if (size === null && taper === null) return UNRECORDED;
  const taperText = taper === null ? null : String(taper).replace(/^0(?=\.)/, '');
  if (size === null) return `taper${NBSP}${taperText}`;
  return taperText === null ? String(size) : `${size}${NBSP}/${NBSP}${taperText}`;
}

function filling({ filled, joins }: CanalEntry): string {
  const parts = [filled === null ? UNRECORDED : clause(filled)];
  if (joins) {
    const where = joins.at === null ? '' : `, ${withUnit(joins.at, 'mm')} from the apex`;
    parts.push(`joins${NBSP}${joins.canal}${where}`);
  }
  return parts.join('; ');
}

/** One row a canal, as recorded; a canal that joins another says so. */
export function canalTable(context: BlockContext, options: BlockOf<'canal-table'>, widthPt: number): Built {
  const { canals } = context.course;
  if (canals.length === 0) return NOTHING;
  const heading = sectionHeading(options.heading, widthPt, context);
  const table = tag('Table');
  const rows = [
    headRow(table, widthPt, context),
    ...canals.map((canal) => canalRow(canal, table, widthPt, context)),
  ];
  for (const row of rows.length <= WHOLE_ROWS ? rows : rows.slice(0, 2)) row.keepWithNext = true;
  const note = tag('P');
  const notes = paragraphPieces(
    [run(noteText(canals), 'regular', QUIET)],
    { style: context.type.caption, widthPt, tag: note, beforePt: 4 },
    context.fonts,
  );
  rows.at(-1)!.keepWithNext = true;
  return { pieces: [...heading.pieces, ...rows, ...notes], tags: [...heading.tags, table, note] };
}

function noteText(canals: readonly CanalEntry[]): string {
  const own = canals.flatMap(({ canal, note }) => (note === null ? [] : [`${canal}: ${clause(note)}.`]));
  return ['Size: largest instrument at length, in hundredths of a millimetre.', ...own].join(' ');
}

function cellsOf(widthPt: number) {
  const gapsPt = CELL_GAP_PT * (COLUMNS.length - 1);
  let xPt = 0;
  return COLUMNS.map((column) => {
    const cell = { column, xPt, widthPt: column.share * (widthPt - gapsPt) };
    xPt += cell.widthPt + CELL_GAP_PT;
    return cell;
  });
}

function headRow(table: Tag, widthPt: number, context: BlockContext): Piece {
  const row = tag('TR');
  table.kids.push(row);
  const cells = cellsOf(widthPt).map(({ column, ...at }) => {
    const element: Tag = { ...tag('TH'), scope: 'Column' };
    row.kids.push(element);
    return { ...at, element, runs: [run(column.head, 'semibold', QUIET)] };
  });
  return tableRow(cells, widthPt, { colour: INK, strokePt: 0.9 }, context);
}

function canalRow(canal: CanalEntry, table: Tag, widthPt: number, context: BlockContext): Piece {
  const row = tag('TR');
  table.kids.push(row);
  const cells = cellsOf(widthPt).map(({ column, ...at }, index) => {
    const element: Tag = index === 0 ? { ...tag('TH'), scope: 'Row' } : tag('TD');
    row.kids.push(element);
    const text = column.text(canal);
    const colour = text === UNRECORDED ? QUIET : INK;
    return {
      ...at,
      element,
      runs: [run(text, index === 0 ? 'semibold' : 'regular', colour)],
    };
  });
  return tableRow(cells, widthPt, { colour: LINE, strokePt: 0.5 }, context);
}

interface Cell {
  xPt: number;
  widthPt: number;
  element: Tag;
  runs: ReturnType<typeof run>[];
}

function tableRow(
  cells: Cell[],
  widthPt: number,
  rule: { colour: typeof INK; strokePt: number },
  context: BlockContext,
): Piece {
  const style = context.type.table;
  const marks: Mark[] = [];
  let heightPt = style.leadingPt;
  for (const { xPt, widthPt: cellPt, element, runs } of cells) {
    const block = textBlock(
      runs,
      { style, widthPt: cellPt, tag: element, xPt, topPt: PAD_PT },
      context.fonts,
    );
    heightPt = Math.max(heightPt, block.heightPt);
    marks.push(...block.marks);
  }
  const totalPt = heightPt + 2 * PAD_PT;
  marks.push({ kind: 'rule', from: { xPt: 0, yPt: totalPt }, to: { xPt: widthPt, yPt: totalPt }, ...rule });
  return { heightPt: totalPt, beforePt: 0, keepWithNext: false, marks };
}
