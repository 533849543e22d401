import { type Mark, moved, type Tag } from './marks.js';

/**
 * The smallest part of a sheet that is never torn: a heading, a line, a table row, a row of figures. Marks are
 * relative to the piece's top left corner.
 */
export interface Piece {
  heightPt: number;
  /** Space above, dropped at the top of a page. */
  beforePt: number;
  /** Stays on the page of the piece after it. */
  keepWithNext: boolean;
  marks: Mark[];
  bookmark?: { title: string; level: 1 | 2 };
  /** What to place instead when the piece opens a page: the same with its heading repeated. */
  atTop?: () => Piece;
  /** A lower version of the piece for the rest of a page, or null when it would become too small. */
  squeeze?: (availablePt: number) => Piece | null;
}

/** What a block makes: pieces in order, and the elements of the structure tree they belong to. */
export interface Built {
  pieces: Piece[];
  tags: Tag[];
}

export const NOTHING: Built = { pieces: [], tags: [] };

/** Pieces on top of each other as one piece. */
export function stacked(pieces: readonly Piece[]): Piece {
  let yPt = 0;
  const marks: Mark[] = [];
  pieces.forEach((piece, index) => {
    if (index > 0) yPt += piece.beforePt;
    marks.push(...piece.marks.map((mark) => moved(mark, 0, yPt)));
    yPt += piece.heightPt;
  });
  const bookmark = pieces.find((piece) => piece.bookmark)?.bookmark;
  return {
    heightPt: yPt,
    beforePt: pieces[0]?.beforePt ?? 0,
    keepWithNext: false,
    marks,
    ...(bookmark ? { bookmark } : {}),
  };
}
