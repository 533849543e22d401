import type { FlowedPage } from '../layout/flow.js';
import type { FontBook } from '../layout/font-book.js';
import { INK, LINE, type TextMark } from '../layout/marks.js';
import type { PageGeometry } from '../layout/page.js';
import type { TypeScale } from '../layout/type-scale.js';

/** Share code, what the copy is, and page n of m, under a rule. The same on every page, so not part of the text. */
export function addFooters(
  pages: readonly FlowedPage[],
  of: {
    shareCode: string;
    geometry: PageGeometry;
    type: TypeScale;
    fonts: FontBook;
    middle?: string;
    left?: string;
  },
): void {
  const { geometry, fonts } = of;
  const { sizePt } = of.type.footer;
  const rightPt = geometry.widthPt - geometry.marginPt;
  pages.forEach((page, index) => {
    const text = (words: string, align: number): TextMark => ({
      kind: 'text',
      tag: null,
      xPt: geometry.marginPt + align * (geometry.contentWidthPt - fonts.measure(words, 'regular', sizePt)),
      yPt: geometry.footerBaselinePt,
      sizePt,
      weight: 'regular',
      colour: INK,
      text: words,
    });
    const yPt = geometry.footerRulePt;
    page.marks.push(
      {
        kind: 'rule',
        from: { xPt: geometry.marginPt, yPt },
        to: { xPt: rightPt, yPt },
        strokePt: 0.5,
        colour: LINE,
      },
      text(of.left ?? `Share code ${of.shareCode}`, 0),
      text(of.middle ?? 'De-identified copy for sharing', 0.5),
      text(`Page ${index + 1} of ${pages.length}`, 1),
    );
  });
}
