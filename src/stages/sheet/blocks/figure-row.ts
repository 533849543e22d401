import type { PictureRecord } from '../../../trade/case-record.js';
import { isRadiograph } from '../../../trade/views.js';
import { centred } from '../layout/fit.js';
import { ACCENT, type Mark, PANEL, QUIET, type Rect, tag } from '../layout/marks.js';
import { GUTTER_PT } from '../layout/page.js';
import type { Piece } from '../layout/piece.js';
import { rightAligned, run, textBlock } from '../layout/typeset.js';
import { altText, detailWords, headWords, visitText } from '../words/picture-words.js';
import { capital, clause } from '../words/stage-words.js';
import type { BlockContext } from './block-context.js';
import { type Figure, isToScale, placedCells, type RowSpec, scaleOf } from './row-cells.js';
import { type RowTitle, rowTitle } from './row-title.js';

const HEAD_GAP_PT = 2.5;
const CAPTION_GAP_PT = 3.5;
/** A row may shrink by this much rather than leave a gap at the foot of a page. */
const LEAST_SHRINK = 0.76;

export function newFigure(picture: PictureRecord, context: BlockContext): Figure {
  const caption = tag('Caption');
  const figure = { ...tag('Figure', [caption]), alt: altText(picture, context.course) };
  const number = context.figures.next;
  context.figures.next += 1;
  return { number, picture, figure, caption };
}

/** One row of figures: heads, pictures, captions. Pictures are never cropped and nothing is drawn over them. */
export function figureRow(spec: RowSpec, title: RowTitle, context: BlockContext): Piece {
  const draw = (maxHeightPt: number, heading: RowTitle) => drawRow(spec, maxHeightPt, heading, context);
  const full = draw(spec.maxHeightPt, title);
  const squeezeTo = (heading: RowTitle, from: ReturnType<typeof drawRow>) => (availablePt: number) => {
    const picturePt = from.picturePt - (from.piece.heightPt - availablePt);
    if (picturePt < from.picturePt * LEAST_SHRINK) return null;
    const smaller = draw(picturePt, heading);
    return smaller.piece.heightPt <= availablePt + 0.01 && smaller.keepsScale ? smaller.piece : null;
  };
  const continued = title.again;
  return {
    ...full.piece,
    squeeze: squeezeTo(title, full),
    ...(continued
      ? {
          atTop: () => {
            const top = draw(spec.maxHeightPt, continued);
            return { ...top.piece, squeeze: squeezeTo(continued, top) };
          },
        }
      : {}),
  };
}

function drawRow(spec: RowSpec, maxHeightPt: number, title: RowTitle, context: BlockContext) {
  const { type } = context;
  const scale = scaleOf(spec, maxHeightPt);
  const placed = placedCells(spec, scale?.ptPerMm ?? null, maxHeightPt);
  const heading = rowTitle(title, scale && { ...scale, ...barPlace(spec, placed) }, spec.widthPt, context);
  const topPt = heading.heightPt + type.caption.leadingPt + HEAD_GAP_PT;
  const rowPt = Math.max(...placed.map(({ size }) => size.heightPt));
  const marks: Mark[] = [...heading.marks];
  let belowPt = topPt + rowPt;
  for (const { item, xPt, widthPt, captionPt, size } of placed) {
    const box: Rect = { xPt, yPt: topPt, widthPt, heightPt: rowPt };
    const picture = centred(size.widthPt, size.heightPt, box);
    marks.push(...headMarks(item, { ...box, yPt: heading.heightPt, cellPt: captionPt }, context));
    if (leavesRoom(picture, box)) marks.push({ kind: 'panel', box, colour: PANEL });
    marks.push({ kind: 'picture', tag: item.figure, number: item.picture.number, box: picture });
    const caption = captionBlock(item, box, { spec, captionPt, said: title.notToScale }, context);
    marks.push(...caption.marks);
    belowPt = Math.max(belowPt, caption.bottomPt);
  }
  const piece: Piece = {
    heightPt: belowPt,
    beforePt: spec.beforePt,
    keepWithNext: false,
    marks,
    ...(heading.bookmark ? { bookmark: heading.bookmark } : {}),
  };
  return { piece, picturePt: rowPt, keepsScale: (scale !== null) === isToScale(spec) };
}

/** The bar ends with the last picture where heading and bar have room before it, else with the row. */
function barPlace(spec: RowSpec, placed: readonly { xPt: number; widthPt: number }[]) {
  const endPt = Math.max(...placed.map(({ xPt, widthPt }) => xPt + widthPt));
  return { pictures: placed.length, rightPt: endPt > spec.widthPt / 2 ? endPt : spec.widthPt };
}

/** Under the picture, or beside a lone one. */
function captionBlock(
  item: Figure,
  box: Rect,
  { spec, captionPt, said }: { spec: RowSpec; captionPt: number; said: boolean },
  context: BlockContext,
) {
  const besidePt = box.xPt + box.widthPt + GUTTER_PT;
  const at = spec.plan.captionBeside
    ? { xPt: besidePt, topPt: box.yPt - 2, widthPt: spec.widthPt - besidePt }
    : { xPt: box.xPt, topPt: box.yPt + box.heightPt + CAPTION_GAP_PT, widthPt: captionPt };
  const toScale = isRadiograph(item.picture.view) && !said ? isToScale(spec) : null;
  const runs = captionRuns(item, toScale, captionPt, context);
  const block = textBlock(runs, { ...at, style: context.type.caption, tag: item.caption }, context.fonts);
  return { marks: block.marks, bottomPt: at.topPt + block.heightPt };
}

const leavesRoom = (picture: Rect, box: Rect): boolean =>
  box.widthPt - picture.widthPt > 0.5 || box.heightPt - picture.heightPt > 0.5;

/**
 * Band and stage at the left; the visit flush with the picture, or with its column where the picture is too narrow for
 * both; where the column is too, the visit moves to the caption.
 */
function headMarks(
  item: Figure,
  at: { xPt: number; yPt: number; widthPt: number; cellPt: number },
  context: BlockContext,
): Mark[] {
  const { band, stage } = headWords(item.picture);
  const style = context.type.caption;
  const { xPt, yPt: topPt, cellPt } = at;
  const left = [run(band, 'semibold', ACCENT), run(`, ${stage}`, 'regular', ACCENT)];
  const leftBlock = textBlock(left, { style, tag: item.caption, widthPt: cellPt, xPt, topPt }, context.fonts);
  const marks: Mark[] = leftBlock.marks.filter((mark) => mark.yPt <= topPt + style.leadingPt);
  const neededPt = headWidth(item, context);
  if (neededPt > cellPt) return marks;
  const rightPt = xPt + (neededPt > at.widthPt ? cellPt : at.widthPt);
  const visit = [run(visitText(item.picture, context.course), 'regular', QUIET)];
  return [...marks, ...rightAligned(visit, { style, tag: item.caption, rightPt, topPt }, context.fonts)];
}

const HEAD_SPACE_PT = 8;

function headWidth(item: Figure, context: BlockContext): number {
  const { band, stage } = headWords(item.picture);
  const { measure } = context.fonts;
  const { sizePt } = context.type.caption;
  const leftPt = measure(band, 'semibold', sizePt) + measure(`, ${stage}`, 'regular', sizePt);
  return leftPt + HEAD_SPACE_PT + measure(visitText(item.picture, context.course), 'regular', sizePt);
}

function captionRuns(item: Figure, toScale: boolean | null, cellPt: number, context: BlockContext) {
  const { picture, number } = item;
  const caption = picture.caption === null ? '' : `${clause(picture.caption)}. `;
  const visit = headWidth(item, context) > cellPt ? ` ${capital(visitText(picture, context.course))}.` : '';
  return [
    run(`Fig.\u00a0${number}  `, 'semibold'),
    run(caption),
    run(`${detailWords(picture, { toScale })}${visit}`, 'regular', QUIET),
  ];
}
