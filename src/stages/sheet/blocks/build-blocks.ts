import { type Mark, moved } from '../layout/marks.js';
import { cell } from '../layout/page.js';
import { type Built, NOTHING, type Piece, stacked } from '../layout/piece.js';
import type { SingleBlock, TemplateBlock } from '../template/schema.js';
import type { BlockContext } from './block-context.js';
import { canalTable } from './canal-table.js';
import { aboutTheseImages, cautions } from './closing-matter.js';
import { answer, letterhead, patientLine, timeline, title } from './front-matter.js';
import { handOff } from './hand-off.js';
import { orificeDiagramBlock } from './orifice-diagram-block.js';
import { pictureSection } from './picture-section.js';

/** The blocks of a template in order. The engine knows blocks, not sheets. */
export function buildBlocks(blocks: readonly TemplateBlock[], context: BlockContext): Built {
  const widthPt = context.geometry.contentWidthPt;
  const built = blocks.map((block) =>
    block.block === 'columns' ? columns(block, context, widthPt) : buildBlock(block, context, widthPt),
  );
  return joined(built);
}

function buildBlock(block: SingleBlock, context: BlockContext, widthPt: number): Built {
  switch (block.block) {
    case 'letterhead':
      return letterhead(context, block, widthPt);
    case 'title':
      return title(context, block, widthPt);
    case 'answer':
      return answer(context, block, widthPt);
    case 'patient-line':
      return patientLine(context, block, widthPt);
    case 'timeline':
      return timeline(context, block, widthPt);
    case 'radiographs':
    case 'stills':
    case 'pictures':
      return pictureSection(context, block, widthPt);
    case 'canal-table':
      return canalTable(context, block, widthPt);
    case 'orifice-diagram':
      return orificeDiagramBlock(context, block, widthPt);
    case 'hand-off':
      return handOff(context, block, widthPt);
    case 'about-these-images':
      return aboutTheseImages(context, block, widthPt);
    case 'cautions':
      return cautions(context, block, widthPt);
  }
}

const joined = (built: readonly Built[]): Built => ({
  pieces: built.flatMap(({ pieces }) => pieces),
  tags: built.flatMap(({ tags }) => tags),
});

type Columns = Extract<TemplateBlock, { block: 'columns' }>;

/**
 * Blocks side by side, which move as one. A column with nothing in it gives its width away; columns taller than a
 * page are set one below the other.
 */
function columns(block: Columns, context: BlockContext, widthPt: number): Built {
  const before = { shown: context.shown.length, next: context.figures.next };
  const spans = block.columns.map(({ span }) => span);
  const sideBySide = build(block, context, widthPt, spans);
  const filled = sideBySide.map(({ pieces }) => pieces.length > 0);
  if (filled.filter(Boolean).length >= 2) {
    const piece = besides(sideBySide, widthPt, spans);
    const pagePt = context.geometry.bottomPt - context.geometry.topPt;
    if (piece.heightPt <= pagePt * 0.8) return { pieces: [piece], tags: joined(sideBySide).tags };
  } else if (!filled.some(Boolean)) return NOTHING;
  context.shown.length = before.shown;
  context.figures.next = before.next;
  return joined(
    block.columns.map(({ blocks }) => joined(blocks.map((inner) => buildBlock(inner, context, widthPt)))),
  );
}

function build(block: Columns, context: BlockContext, widthPt: number, spans: number[]): Built[] {
  return block.columns.map(({ blocks }, index) => {
    const at = columnAt(widthPt, spans, index);
    return joined(blocks.map((inner) => buildBlock(inner, context, at.widthPt)));
  });
}

function columnAt(widthPt: number, spans: readonly number[], index: number) {
  const units = spans.reduce((sum, span) => sum + span, 0);
  const start = spans.slice(0, index).reduce((sum, span) => sum + span, 0);
  return cell(widthPt, units, start, spans[index]!);
}

function besides(built: readonly Built[], widthPt: number, spans: readonly number[]): Piece {
  const stacks = built.map(({ pieces }) => stacked(pieces));
  const marks: Mark[] = stacks.flatMap((stack, index) =>
    stack.marks.map((mark) => moved(mark, columnAt(widthPt, spans, index).xPt, 0)),
  );
  const bookmark = stacks.find((stack) => stack.bookmark)?.bookmark;
  return {
    heightPt: Math.max(...stacks.map((stack) => stack.heightPt)),
    beforePt: Math.max(...stacks.map((stack) => stack.beforePt)),
    keepWithNext: false,
    marks,
    ...(bookmark ? { bookmark } : {}),
  };
}
