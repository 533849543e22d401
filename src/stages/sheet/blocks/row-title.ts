import { INK, type Mark, QUIET, type Tag } from '../layout/marks.js';
import { rightAligned, run, textBlock } from '../layout/typeset.js';
import type { BlockContext } from './block-context.js';

/** The line above a row: a section's heading when the row opens it, and the row's scale at the right. */
export interface RowTitle {
  text: string | null;
  /** Null for a repeated heading, which is an artifact. */
  element: Tag | null;
  /** Where the words of the scale belong in the structure. */
  scaleElement: Tag;
  /** True where the line says for the whole row that it has no scale. */
  notToScale: boolean;
  /** The title when the row opens a page. */
  again: RowTitle | null;
}

const UNDER_PT = 4;

export function rowTitle(
  title: RowTitle,
  scale: { barPt: number; pictures: number; rightPt: number } | null,
  widthPt: number,
  context: BlockContext,
): { marks: Mark[]; heightPt: number; bookmark?: { title: string; level: 2 } } {
  if (title.text === null && scale === null) return { marks: [], heightPt: 0 };
  const style = title.text === null ? context.type.caption : context.type.section;
  const marks: Mark[] = [];
  let heightPt = style.leadingPt;
  if (title.text !== null) {
    const block = textBlock(
      [run(title.text, 'semibold')],
      { style, widthPt: widthPt * 0.6, tag: title.element },
      context.fonts,
    );
    marks.push(...block.marks);
    heightPt = Math.max(heightPt, block.heightPt);
  }
  if (scale) marks.push(...scaleMarks(scale, heightPt, title.scaleElement, context));
  else if (title.notToScale && title.text !== null)
    marks.push(
      ...rightAligned(
        [run('Not to scale', 'regular', QUIET)],
        {
          style: context.type.caption,
          rightPt: widthPt,
          topPt: heightPt - context.type.caption.leadingPt - 1,
          tag: title.scaleElement,
        },
        context.fonts,
      ),
    );
  return {
    marks,
    heightPt: heightPt + UNDER_PT,
    ...(title.text !== null && title.element !== null
      ? { bookmark: { title: title.text, level: 2 as const } }
      : {}),
  };
}

/** "One scale for this row   5 mm |----|" */
function scaleMarks(
  { barPt, pictures, rightPt }: { barPt: number; pictures: number; rightPt: number },
  heightPt: number,
  element: Tag,
  context: BlockContext,
): Mark[] {
  const style = context.type.caption;
  const topPt = heightPt - style.leadingPt - 1;
  const words = [run(`${pictures === 1 ? 'Scale' : 'One scale for this row'}, 5\u00a0mm`, 'regular', QUIET)];
  const middlePt = topPt + style.leadingPt / 2 + 0.5;
  const leftPt = rightPt - barPt;
  const stroke = { strokePt: 0.9, colour: INK };
  const tick = (xPt: number): Mark => ({
    kind: 'rule',
    from: { xPt, yPt: middlePt - 3 },
    to: { xPt, yPt: middlePt + 3 },
    ...stroke,
  });
  return [
    ...rightAligned(words, { style, rightPt: leftPt - 6, topPt, tag: element }, context.fonts),
    { kind: 'rule', from: { xPt: leftPt, yPt: middlePt }, to: { xPt: rightPt, yPt: middlePt }, ...stroke },
    tick(leftPt + 0.45),
    tick(rightPt - 0.45),
  ];
}
