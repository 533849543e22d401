import { addFooters } from '../blocks/footer.js';
import { fitInCell } from '../layout/fit.js';
import { flow } from '../layout/flow.js';
import { type FontBook, type FontBytes, openFonts } from '../layout/font-book.js';
import { type Mark, PANEL, QUIET, type Tag, tag } from '../layout/marks.js';
import { cell, pageGeometry } from '../layout/page.js';
import type { Piece } from '../layout/piece.js';
import { type TypeScale, typeScale } from '../layout/type-scale.js';
import { paragraphPieces, run, textBlock } from '../layout/typeset.js';
import type { SheetPicture } from '../pdf/embed-jpeg.js';
import { writeDocument } from '../pdf/write-document.js';
import { printable } from './printable.js';

export interface ContactTile extends SheetPicture {
  number: number;
  /** File name; private. */
  name: string;
  /** What is known of the picture, a line each. */
  lines: string[];
}

export interface ContactSheetInput {
  title: string;
  fonts: FontBytes;
  paper: 'A4' | 'Letter';
  tiles: readonly ContactTile[];
}

/** Few pictures stand larger; either way a page holds the rows that fit. */
const FEW = { most: 12, columns: 3, tilePt: 121 };
const MANY = { columns: 4, tilePt: 92 };
const SMALLEST_PT = 9;

/** Numbered small pictures with their file names, to write labels by. Private: it shows names and never leaves. */
export async function drawContactSheet(input: ContactSheetInput): Promise<Uint8Array> {
  const fonts = openFonts(input.fonts);
  const type = typeScale(SMALLEST_PT);
  const geometry = pageGeometry(input.paper, type.footer.sizePt);
  const heading = tag('H1');
  const title = printable(`Contact sheet: ${input.title}`, fonts);
  const widthPt = geometry.contentWidthPt;
  const head = paragraphPieces(
    [run(title, 'semibold')],
    { style: { sizePt: 16, leadingPt: 20 }, widthPt, tag: heading, beforePt: 0 },
    fonts,
  );
  for (const piece of head) piece.keepWithNext = true;
  if (head[0]) head[0].bookmark = { title, level: 1 };
  const tags: Tag[] = [heading];
  const pieces: Piece[] = [...head];
  const grid = input.tiles.length <= FEW.most ? FEW : MANY;
  for (let at = 0; at < input.tiles.length; at += grid.columns)
    pieces.push(tileRow(input.tiles.slice(at, at + grid.columns), { ...grid, widthPt }, tags, type, fonts));
  const { pages, bookmarks } = flow(pieces, geometry);
  addFooters(pages, {
    shareCode: '',
    geometry,
    type,
    fonts,
    left: 'Contact sheet',
    middle: 'Private, not for sharing',
  });
  const laid = { pages, bookmarks, structure: tag('Document', tags), language: 'en', identity: title };
  const pictures = new Map(input.tiles.map((tile) => [tile.number, tile]));
  return writeDocument({ ...laid, widthPt: geometry.widthPt, heightPt: geometry.heightPt }, fonts, pictures);
}

function tileRow(
  tiles: readonly ContactTile[],
  { columns, tilePt, widthPt }: { columns: number; tilePt: number; widthPt: number },
  tags: Tag[],
  type: TypeScale,
  fonts: FontBook,
): Piece {
  const marks: Mark[] = [];
  let heightPt = 0;
  tiles.forEach((tile, index) => {
    const column = cell(widthPt, columns, index, 1);
    const box = { ...column, yPt: 0, heightPt: tilePt };
    const caption = tag('Caption');
    const figure: Tag = { ...tag('Figure', [caption]), alt: `Picture ${tile.number}` };
    tags.push(figure);
    const picture = fitInCell({ width: tile.widthPx, height: tile.heightPx }, box);
    marks.push({ kind: 'panel', box, colour: PANEL });
    marks.push({ kind: 'picture', tag: figure, number: tile.number, box: picture });
    let topPt = tilePt + 3;
    const lines = [
      [run(`${tile.number}  `, 'semibold'), run(printable(tile.name, fonts), 'semibold')],
      ...tile.lines.map((line) => [run(printable(line, fonts), 'regular', QUIET)]),
    ];
    for (const runs of lines) {
      const at = { style: type.caption, widthPt: column.widthPt, tag: caption, xPt: column.xPt, topPt };
      const block = textBlock(runs, at, fonts);
      marks.push(...block.marks);
      topPt += block.heightPt;
    }
    heightPt = Math.max(heightPt, topPt);
  });
  return { heightPt, beforePt: 12, keepWithNext: false, marks };
}
