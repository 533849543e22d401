import { isRadiograph } from '../../trade/views.js';
import type { BlockContext, ShownPicture } from './blocks/block-context.js';
import { buildBlocks } from './blocks/build-blocks.js';
import { addFooters } from './blocks/footer.js';
import { type Bookmark, type FlowedPage, flow } from './layout/flow.js';
import type { Tag } from './layout/marks.js';
import { type PageGeometry, pageGeometry } from './layout/page.js';
import { typeScale } from './layout/type-scale.js';
import type { Template } from './template/schema.js';

type Fixed = Omit<BlockContext, 'type' | 'geometry' | 'pictureScale' | 'storyMost' | 'shown' | 'figures'>;

interface Layout {
  pages: FlowedPage[];
  bookmarks: Bookmark[];
  tags: Tag[];
  shown: ShownPicture[];
  geometry: PageGeometry;
}

/** Shares of the usual picture height that are tried, largest first; then four in a row, each with its cost. */
const PICTURE_SCALES = [1, 0.92, 0.88, 0.84, 0.8, 0.76];
const TRIALS = [3, 4].flatMap((storyMost) =>
  PICTURE_SCALES.map((pictureScale, step) => ({
    pictureScale,
    storyMost,
    steps: step + (storyMost - 3) * 6,
  })),
);

/** Points of white at the feet of pages that are worth one step smaller pictures. */
const GAP_PER_STEP_PT = 24;

/** The layout with the fewest pages; among those the one with the least white, weighed against larger pictures. */
export function bestLayout(template: Template, fixed: Fixed): Layout {
  const type = typeScale(fixed.settings.minimumText);
  const geometry = pageGeometry(fixed.settings.paper, type.footer.sizePt);
  let best: { layout: Layout; cost: number } | null = null;
  for (const { steps, ...trial } of trialsFor(fixed.pictures)) {
    const shown: ShownPicture[] = [];
    const figures = { next: 1 };
    const built = buildBlocks(template.blocks, { ...fixed, ...trial, type, geometry, shown, figures });
    const flowed = flow(built.pieces, geometry);
    const cost = flowed.pages.length * 1e6 + flowed.whitePt + steps * GAP_PER_STEP_PT;
    if (best === null || cost < best.cost)
      best = { layout: { ...flowed, tags: built.tags, shown, geometry }, cost };
    if (flowed.pages.length === 1) break;
  }
  const { layout } = best!;
  addFooters(layout.pages, { shareCode: fixed.shareCode, geometry, type, fonts: fixed.fonts });
  return layout;
}

/** Four in a row are tried only where a kind has just four pictures. */
function trialsFor(pictures: Fixed['pictures']) {
  const radiographs = pictures.filter((picture) => isRadiograph(picture.view)).length;
  const hasFour = radiographs === 4 || pictures.length - radiographs === 4;
  return TRIALS.filter(({ storyMost }) => storyMost === 3 || hasFour);
}
