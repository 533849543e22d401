import { isRadiograph } from '../../trade/views.js';
import type { BlockContext, ShownPicture } from './blocks/block-context.js';
import { buildBlocks } from './blocks/build-blocks.js';
import { addFooters } from './blocks/footer.js';
import { type Bookmark, type FlowedPage, flow } from './layout/flow.js';
import type { Tag } from './layout/marks.js';
import { type PageGeometry, pageGeometry } from './layout/page.js';
import type { Piece } from './layout/piece.js';
import { typeScale } from './layout/type-scale.js';
import type { Template } from './template/schema.js';

type Fixed = Omit<
  BlockContext,
  'type' | 'geometry' | 'pictureScale' | 'restScale' | 'storyMost' | 'shown' | 'figures'
>;

interface Layout {
  pages: FlowedPage[];
  bookmarks: Bookmark[];
  tags: Tag[];
  shown: ShownPicture[];
  geometry: PageGeometry;
}

/** Shares of the usual picture height that are tried, largest first; then four in a row, each with its cost. */
const PICTURE_SCALES = [1, 0.92, 0.89, 0.86, 0.82, 0.78, 0.73, 0.68];
const TRIALS = [3, 4].flatMap((storyMost) =>
  PICTURE_SCALES.map((pictureScale, step) => ({
    pictureScale,
    storyMost,
    steps: step + (storyMost - 3) * PICTURE_SCALES.length,
  })),
);

/** Points of white at the feet of pages that are worth one step smaller pictures. */
const GAP_PER_STEP_PT = 16;

interface Trial {
  pictureScale: number;
  restScale: number;
  storyMost: number;
}

type Tried = Layout & { whitePt: number; trial: Trial };

/** A gap on page one is worse than later: it is where the reader should find all that matters. */
const FIRST_PAGE_WEIGHT = 3;

/** The layout with the fewest pages; among those the one with the least white, weighed against larger pictures. */
export function bestLayout(template: Template, fixed: Fixed): Layout {
  const lay = layouter(template, fixed);
  let best: { layout: Tried; cost: number } | null = null;
  for (const { steps, pictureScale, storyMost } of trialsFor(fixed.pictures)) {
    const layout = lay({ pictureScale, restScale: pictureScale, storyMost });
    const cost = layout.pages.length * 1e6 + layout.whitePt + steps * GAP_PER_STEP_PT;
    if (best === null || cost < best.cost) best = { layout, cost };
    if (layout.pages.length === 1) break;
  }
  const layout = withLargerRest(best!.layout, lay);
  const { geometry } = layout;
  const type = typeScale(fixed.settings.minimumText);
  const { shareCode, notice, fonts } = fixed;
  const draft = notice === null ? {} : { left: notice, middle: 'Stays in the practice' };
  addFooters(layout.pages, { shareCode, geometry, type, fonts, ...draft });
  return layout;
}

function layouter(template: Template, fixed: Fixed): (trial: Trial) => Tried {
  const type = typeScale(fixed.settings.minimumText);
  const geometry = pageGeometry(fixed.settings.paper, type.footer.sizePt);
  return (trial) => {
    const shown: ShownPicture[] = [];
    const figures = { next: 1 };
    const built = buildBlocks(template.blocks, { ...fixed, ...trial, type, geometry, shown, figures });
    bindSmallPrint(built.pieces);
    const flowed = flow(built.pieces, geometry);
    const [first = 0, ...later] = flowed.whitePt;
    const whitePt = later.reduce((sum, pt) => sum + pt, FIRST_PAGE_WEIGHT * first);
    return { ...flowed, tags: built.tags, shown, geometry, whitePt, trial };
  };
}

/** What ends a sheet takes the last row of pictures along, rather than stand on a page of its own. */
function bindSmallPrint(pieces: Piece[]): void {
  const row = pieces.at(-2);
  if (row?.squeeze) row.keepWithNext = true;
}

/** Page one asks for small pictures; the pages after it may have room for the usual size all the same. */
function withLargerRest(layout: Tried, lay: (trial: Trial) => Tried): Tried {
  for (const restScale of PICTURE_SCALES) {
    if (restScale <= layout.trial.restScale) return layout;
    const larger = lay({ ...layout.trial, restScale });
    const spread = larger.whitePt - layout.whitePt;
    if (larger.pages.length === layout.pages.length && spread < GAP_PER_STEP_PT) return larger;
  }
  return layout;
}

/** Four in a row are tried only where a kind has just four pictures. */
function trialsFor(pictures: Fixed['pictures']) {
  const radiographs = pictures.filter((picture) => isRadiograph(picture.view)).length;
  const hasFour = radiographs === 4 || pictures.length - radiographs === 4;
  return TRIALS.filter(({ storyMost }) => storyMost === 3 || hasFour);
}
