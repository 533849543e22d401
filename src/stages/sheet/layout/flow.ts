import { type Mark, moved } from './marks.js';
import type { PageGeometry } from './page.js';
import type { Piece } from './piece.js';
import { torn } from './torn.js';

export interface FlowedPage {
  marks: Mark[];
}

export interface Bookmark {
  title: string;
  level: 1 | 2;
  page: number;
  yPt: number;
}

/**
 * Places pieces on pages, from the top. Pieces kept together move together; a row of figures may shrink a little
 * rather than leave a gap; nothing crosses the bottom. A single piece taller than a page, such as a cell with very
 * long words, is torn between lines. `whitePt` is the height left free at the foot of each page but the last.
 */
export function flow(
  pieces: readonly Piece[],
  geometry: PageGeometry,
): { pages: FlowedPage[]; bookmarks: Bookmark[]; whitePt: number[] } {
  const pages: FlowedPage[] = [{ marks: [] }];
  const bookmarks: Bookmark[] = [];
  const whitePt: number[] = [];
  let yPt = geometry.topPt;
  const isTop = () => yPt === geometry.topPt;
  const place = (piece: Piece) => {
    if (!isTop()) yPt += piece.beforePt;
    const page = pages.at(-1)!;
    for (const mark of piece.marks) page.marks.push(moved(mark, geometry.marginPt, yPt));
    if (piece.bookmark) bookmarks.push({ ...piece.bookmark, page: pages.length - 1, yPt });
    yPt += piece.heightPt;
  };
  const turn = () => {
    whitePt.push(geometry.bottomPt - yPt);
    pages.push({ marks: [] });
    yPt = geometry.topPt;
  };
  for (const group of keptTogether(pieces)) {
    const fits = fitting(group, geometry.bottomPt - yPt, isTop());
    if (fits) {
      for (const piece of fits) place(piece);
      continue;
    }
    if (!isTop()) turn();
    placeFromTop(group, geometry, { place, turn, left: () => geometry.bottomPt - yPt, isTop });
  }
  return { pages, bookmarks, whitePt };
}

function keptTogether(pieces: readonly Piece[]): Piece[][] {
  const groups: Piece[][] = [];
  let open = false;
  for (const piece of pieces) {
    if (open) groups.at(-1)!.push(piece);
    else groups.push([piece]);
    open = piece.keepWithNext;
  }
  return groups;
}

const heightOf = (group: readonly Piece[], atTop: boolean): number =>
  group.reduce((sum, piece, index) => sum + piece.heightPt + (index === 0 && atTop ? 0 : piece.beforePt), 0);

/** The group as it fits into what is left, its last row of figures squeezed when that is enough; else null. */
function fitting(group: readonly Piece[], availablePt: number, atTop: boolean): Piece[] | null {
  const heightPt = heightOf(group, atTop);
  if (heightPt <= availablePt + 0.01) return [...group];
  const row = group.findLastIndex((piece) => piece.squeeze);
  const squeezed = group[row]?.squeeze?.(availablePt - (heightPt - group[row].heightPt));
  return squeezed ? group.with(row, squeezed) : null;
}

interface Pen {
  place(piece: Piece): void;
  turn(): void;
  left(): number;
  isTop(): boolean;
}

function placeFromTop(group: readonly Piece[], geometry: PageGeometry, pen: Pen): void {
  const opened = group.map((piece, index) => (index === 0 && piece.atTop ? piece.atTop() : piece));
  const whole = fitting(opened, geometry.bottomPt - geometry.topPt, true);
  if (whole) {
    for (const piece of whole) pen.place(piece);
    return;
  }
  for (const piece of opened) {
    const fits = fitting([piece], pen.left(), pen.isTop());
    if (!fits && !pen.isTop()) pen.turn();
    const parts = fits ?? fitting([piece], pen.left(), true) ?? torn(piece, pen.left());
    parts.forEach((part, index) => {
      if (!fits && index > 0) pen.turn();
      pen.place(part);
    });
  }
}
