import type { BlockContext, ShownPicture } from './blocks/block-context.js';
import { buildBlocks } from './blocks/build-blocks.js';
import { addFooters } from './blocks/footer.js';
import { type Bookmark, type FlowedPage, flow } from './layout/flow.js';
import type { Tag } from './layout/marks.js';
import { type PageGeometry, pageGeometry } from './layout/page.js';
import { typeScale } from './layout/type-scale.js';
import type { Template } from './template/schema.js';

type Fixed = Omit<BlockContext, 'type' | 'geometry' | 'pictureScale' | 'shown' | 'figures'>;

interface Layout {
  pages: FlowedPage[];
  bookmarks: Bookmark[];
  tags: Tag[];
  shown: ShownPicture[];
  geometry: PageGeometry;
}

/** Shares of the usual picture height that are tried, largest first. */
const PICTURE_SCALES = [1, 0.92, 0.88, 0.84, 0.8, 0.76] as const;

/** Points of white at the feet of pages that are worth one step smaller pictures. */
const GAP_PER_STEP_PT = 24;

/** The layout with the fewest pages; among those the one with the least white, weighed against larger pictures. */
export function bestLayout(template: Template, fixed: Fixed): Layout {
  const type = typeScale(fixed.settings.minimumText);
  const geometry = pageGeometry(fixed.settings.paper, type.footer.sizePt);
  let best: { layout: Layout; cost: number } | null = null;
  for (const [step, pictureScale] of PICTURE_SCALES.entries()) {
    const shown: ShownPicture[] = [];
    const figures = { next: 1 };
    const built = buildBlocks(template.blocks, { ...fixed, type, geometry, pictureScale, shown, figures });
    const flowed = flow(built.pieces, geometry);
    const cost = flowed.pages.length * 1e6 + flowed.whitePt + step * GAP_PER_STEP_PT;
    if (best === null || cost < best.cost)
      best = { layout: { ...flowed, tags: built.tags, shown, geometry }, cost };
    if (flowed.pages.length === 1) break;
  }
  const { layout } = best!;
  addFooters(layout.pages, { shareCode: fixed.shareCode, geometry, type, fonts: fixed.fonts });
  return layout;
}
