import type { PictureRecord } from '../../../trade/case-record.js';
import { isRadiograph } from '../../../trade/views.js';
import type { RowPlan } from '../layout/arrange.js';
import { centred, fitInCell } from '../layout/fit.js';
import { ACCENT, type Mark, PANEL, QUIET, type Rect, type Tag, tag } from '../layout/marks.js';
import { cell } from '../layout/page.js';
import type { Piece } from '../layout/piece.js';
import { rowScale, type SizeMm } from '../layout/row-scale.js';
import { rightAligned, run, textBlock } from '../layout/typeset.js';
import { altText, detailWords, headWords, visitText } from '../words/picture-words.js';
import { clause } from '../words/stage-words.js';
import type { BlockContext } from './block-context.js';
import { type RowTitle, rowTitle } from './row-title.js';

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

/** True when the row shares one scale; decided once, so that captions stay true when the row shrinks. */
export const isToScale = (spec: RowSpec): boolean => scaleOf(spec, spec.maxHeightPt) !== null;

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
  const { fonts, type } = context;
  const style = type.caption;
  const scale = scaleOf(spec, maxHeightPt);
  const wantsScale = isToScale(spec);
  const cells = placedCells(spec);
  const heading = rowTitle(title, scale, spec.widthPt, context);
  const marks: Mark[] = [...heading.marks];
  const headPt = heading.heightPt;
  const pictureTopPt = headPt + style.leadingPt + HEAD_GAP_PT;
  const sizes = cells.map(({ item, widthPt }) =>
    shownSize(item.picture, scale?.ptPerMm ?? null, widthPt, maxHeightPt),
  );
  const rowPt = Math.max(...sizes.map((size) => size.heightPt));
  let belowPt = pictureTopPt + rowPt;
  cells.forEach(({ item, xPt, widthPt }, index) => {
    const box: Rect = { xPt, yPt: pictureTopPt, widthPt, heightPt: rowPt };
    const picture = centred(sizes[index]!.widthPt, sizes[index]!.heightPt, box);
    marks.push(...headMarks(item, box, headPt, context));
    if (leavesRoom(picture, box)) marks.push({ kind: 'panel', box, colour: PANEL });
    marks.push({ kind: 'picture', tag: item.figure, number: item.picture.number, box: picture });
    const beside = spec.plan.captionBeside ? cell(spec.widthPt, 3, 2, 1) : null;
    const caption = textBlock(
      captionRuns(item, isRadiograph(item.picture.view) ? wantsScale : null, context),
      {
        style,
        widthPt: beside?.widthPt ?? widthPt,
        tag: item.caption,
        xPt: beside?.xPt ?? xPt,
        topPt: beside ? pictureTopPt - 2 : pictureTopPt + rowPt + CAPTION_GAP_PT,
      },
      fonts,
    );
    marks.push(...caption.marks);
    belowPt = Math.max(
      belowPt,
      (beside ? pictureTopPt - 2 : pictureTopPt + rowPt + CAPTION_GAP_PT) + caption.heightPt,
    );
  });
  const piece: Piece = {
    heightPt: belowPt,
    beforePt: spec.beforePt,
    keepWithNext: false,
    marks,
    ...(heading.bookmark ? { bookmark: heading.bookmark } : {}),
  };
  return { piece, picturePt: rowPt, keepsScale: (scale !== null) === wantsScale };
}

const placedCells = (spec: RowSpec) =>
  spec.plan.cells.map(({ item, start, span }) => ({
    item,
    ...cell(spec.widthPt, spec.plan.units, start, span),
  }));

function scaleOf(spec: RowSpec, maxHeightPt: number) {
  const cells = placedCells(spec);
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

const leavesRoom = (picture: Rect, box: Rect): boolean =>
  box.widthPt - picture.widthPt > 0.5 || box.heightPt - picture.heightPt > 0.5;

/** Band and stage at the left, the visit at the right; where both do not fit, the visit moves to the caption. */
function headMarks(item: Figure, box: Rect, topPt: number, context: BlockContext): Mark[] {
  const { band, stage } = headWords(item.picture);
  const style = context.type.caption;
  const at = { style, tag: item.caption };
  const left = [run(band, 'semibold', ACCENT), run(`, ${stage}`, 'regular', ACCENT)];
  const short = visitMoves(item, box.widthPt, context);
  const leftBlock = textBlock(left, { ...at, widthPt: box.widthPt, xPt: box.xPt, topPt }, context.fonts);
  const marks: Mark[] = leftBlock.marks.filter((mark) => mark.yPt <= topPt + style.leadingPt);
  if (short) return marks;
  const visit = [run(visitText(item.picture, context.course), 'regular', QUIET)];
  return [...marks, ...rightAligned(visit, { ...at, rightPt: box.xPt + box.widthPt, topPt }, context.fonts)];
}

function visitMoves(item: Figure, widthPt: number, context: BlockContext): boolean {
  const { band, stage } = headWords(item.picture);
  const { measure } = context.fonts;
  const { sizePt } = context.type.caption;
  const leftPt = measure(band, 'semibold', sizePt) + measure(`, ${stage}`, 'regular', sizePt);
  return leftPt + measure(visitText(item.picture, context.course), 'regular', sizePt) + 8 > widthPt;
}

function captionRuns(item: Figure, toScale: boolean | null, context: BlockContext) {
  const { picture, number } = item;
  const wide = item.picture.caption === null ? '' : `${clause(item.picture.caption)}. `;
  const visit = visitMovesAnywhere(item, context) ? ` ${visitText(picture, context.course)}.` : '';
  return [
    run(`Fig.\u00a0${number}  `, 'semibold'),
    run(wide),
    run(`${detailWords(picture, { toScale })}${visit}`, 'regular', QUIET),
  ];
}

/** Judged by the narrowest column, so that a caption does not depend on the row it happens to stand in. */
const visitMovesAnywhere = (item: Figure, context: BlockContext): boolean =>
  visitMoves(item, cell(context.geometry.contentWidthPt, 3, 0, 1).widthPt, context);
