import type { PictureRecord } from '../../../trade/case-record.js';
import type { Band, StageWord } from '../../../trade/stages.js';
import { isRadiograph } from '../../../trade/views.js';
import { arrange } from '../layout/arrange.js';
import { tag } from '../layout/marks.js';
import { type Built, NOTHING } from '../layout/piece.js';
import type { BlockOf } from '../template/schema.js';
import type { BlockContext } from './block-context.js';
import { figureRow, newFigure } from './figure-row.js';
import { SECTION_GAP_PT } from './heading.js';
import { type Figure, isToScale, type RowSpec } from './row-cells.js';
import type { RowTitle } from './row-title.js';

const ROW_GAP_PT = 11;
/** Most a picture may stand high: alone, with one other, in a row of three. */
const LONE_HEIGHT_PT = 200;
const PAIR_HEIGHT_PT = 186;
const ROW_HEIGHT_PT = 130;
/** A lone picture among the rest does not outshine those that tell the case. */
const LONE_REST_PT = 150;

type Options = BlockOf<'radiographs'> | BlockOf<'stills'> | BlockOf<'pictures'>;

/** Radiographs, everything else, or both with the radiographs first. */
function kindOf(pictures: readonly PictureRecord[], block: Options['block']): PictureRecord[] {
  const radiographs = pictures.filter((picture) => isRadiograph(picture.view));
  const others = pictures.filter((picture) => !isRadiograph(picture.view));
  return { radiographs, stills: others, pictures: [...radiographs, ...others] }[block];
}

/** Radiographs, or everything else, before, during and after, in rows that flow over pages. */
export function pictureSection(context: BlockContext, options: Options, widthPt: number): Built {
  const ofKind = kindOf(context.pictures, options.block);
  const fresh = ofKind.filter((picture) => !context.shown.some((shown) => shown.picture === picture));
  const chosen =
    options.pick === 'all'
      ? ofKind
      : options.pick === 'rest'
        ? fresh
        : story(ofKind, options.prefer, context.storyMost);
  if (chosen.length === 0) return NOTHING;
  const figures = chosen.map((picture) => newFigure(picture, context));
  // Two that may not be large stand in the columns of the rows above and below them.
  const grid = options.pick === 'rest' || (figures.length === 2 && context.pictureScale < 1);
  const maxHeightPt = heightFor(figures.length, options.pick === 'rest', context);
  const aspect = ({ picture }: Figure) => picture.widthPx / picture.heightPx;
  const inARow = options.pick === 'story' ? context.storyMost : 3;
  const rows = arrange(figures, aspect, widthPt, maxHeightPt, { inARow, grid });
  const heading = tag('H2');
  const built: Built = { pieces: [], tags: [heading] };
  rows.forEach((plan, index) => {
    const spec: RowSpec = {
      plan,
      widthPt,
      maxHeightPt,
      beforePt: index === 0 ? SECTION_GAP_PT : ROW_GAP_PT,
    };
    const toScale = isToScale(spec);
    const scaleElement = tag('P');
    const title = titleOf(options.heading, index, heading, scaleElement);
    const films = plan.cells.every(({ item }) => isRadiograph(item.picture.view));
    const notToScale = rows.length === 1 && films && !toScale;
    built.pieces.push(figureRow(spec, { ...title, notToScale }, context));
    if (toScale || notToScale) built.tags.push(scaleElement);
    for (const { item } of plan.cells) {
      built.tags.push(item.figure);
      remember(item, toScale, context);
    }
  });
  return built;
}

/** Most height of a picture; large ones give way first when smaller ones save a page. */
function heightFor(count: number, rest: boolean, { pictureScale, restScale }: BlockContext): number {
  if (rest) return (count === 1 ? LONE_REST_PT : ROW_HEIGHT_PT) * restScale;
  if (count === 1) return LONE_HEIGHT_PT * pictureScale ** 1.8;
  return count === 2 && pictureScale === 1 ? PAIR_HEIGHT_PT : ROW_HEIGHT_PT * pictureScale;
}

function remember(item: Figure, toScale: boolean, context: BlockContext): void {
  const radiograph = isRadiograph(item.picture.view);
  context.shown.push({ figure: item.number, picture: item.picture, toScale: radiograph ? toScale : null });
}

/** The first row opens the section; a row that opens a page repeats the heading. */
function titleOf(
  heading: string,
  index: number,
  element: RowTitle['element'],
  scaleElement: RowTitle['scaleElement'],
): RowTitle {
  const repeated: RowTitle = {
    text: `${heading} (continued)`,
    element: null,
    scaleElement,
    notToScale: false,
    again: null,
  };
  return index === 0
    ? { text: heading, element, scaleElement, notToScale: false, again: null }
    : { text: null, element: null, scaleElement, notToScale: false, again: repeated };
}

/** All when there are no more than `most`; else three that tell the case, one of each band by preference. */
export function story(
  pictures: readonly PictureRecord[],
  prefer: readonly StageWord[],
  most: number,
): PictureRecord[] {
  if (pictures.length <= most) return [...pictures];
  const rank = (picture: PictureRecord) => {
    const place = prefer.indexOf(picture.stage);
    return place < 0 ? prefer.length : place;
  };
  // Of two pictures of one stage, the one that names more canals tells more of the case.
  const best = (candidates: readonly PictureRecord[]) =>
    candidates.toSorted((a, b) => rank(a) - rank(b) || b.canals.length - a.canals.length)[0];
  const bands: readonly Band[] = ['before', 'during', 'after'];
  const chosen = new Set<PictureRecord>();
  for (const band of bands) {
    const found = best(pictures.filter((picture) => picture.band === band));
    if (found) chosen.add(found);
  }
  while (chosen.size < Math.min(most, 3)) {
    const found = best(pictures.filter((picture) => !chosen.has(picture)));
    if (!found) break;
    chosen.add(found);
  }
  return pictures.filter((picture) => chosen.has(picture));
}
