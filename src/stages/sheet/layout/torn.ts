import { type Mark, moved } from './marks.js';
import type { Piece } from './piece.js';

/** A piece taller than a page as parts that each fit, cut between lines of text. Pictures are never in such a piece. */
export function torn(piece: Piece, pagePt: number): Piece[] {
  const parts: Piece[] = [];
  let rest = piece.marks;
  while (rest.length > 0) {
    const kept = rest.filter((mark) => bottomOf(mark) <= pagePt);
    const over = rest.filter((mark) => bottomOf(mark) > pagePt);
    if (kept.length === 0) break;
    const heightPt = Math.max(...kept.map(bottomOf));
    parts.push({ ...piece, heightPt, beforePt: 0, marks: kept });
    const startPt = Math.min(...over.map(topOf));
    rest = over.map((mark) => moved(mark, 0, -startPt));
  }
  return parts;
}

/** Room under a baseline for descenders, as a share of the type size. */
const DESCENT = 0.3;

function bottomOf(mark: Mark): number {
  switch (mark.kind) {
    case 'text':
      return mark.yPt + mark.sizePt * DESCENT;
    case 'rule':
      return Math.max(mark.from.yPt, mark.to.yPt);
    case 'shape':
      return Math.max(...mark.points.map(({ yPt }) => yPt));
    default:
      return mark.box.yPt + mark.box.heightPt;
  }
}

function topOf(mark: Mark): number {
  switch (mark.kind) {
    case 'text':
      return mark.yPt - mark.sizePt;
    case 'rule':
      return Math.min(mark.from.yPt, mark.to.yPt);
    case 'shape':
      return Math.min(...mark.points.map(({ yPt }) => yPt));
    default:
      return mark.box.yPt;
  }
}
