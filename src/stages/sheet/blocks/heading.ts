import { tag } from '../layout/marks.js';
import type { Built, Piece } from '../layout/piece.js';
import { run, textBlock } from '../layout/typeset.js';
import type { BlockContext } from './block-context.js';

/** Space between sections and under a section's heading. */
export const SECTION_GAP_PT = 12;
const UNDER_PT = 4;

/** A section's heading, kept with what follows. */
export function sectionHeading(text: string, widthPt: number, context: BlockContext): Built {
  const element = tag('H2');
  const block = textBlock(
    [run(text, 'semibold')],
    { style: context.type.section, widthPt, tag: element },
    context.fonts,
  );
  const piece: Piece = {
    heightPt: block.heightPt + UNDER_PT,
    beforePt: SECTION_GAP_PT,
    keepWithNext: true,
    marks: block.marks,
    bookmark: { title: text, level: 2 },
  };
  return { pieces: [piece], tags: [element] };
}
