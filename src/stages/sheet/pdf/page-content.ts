import type { Colour, Mark, Rect, Tag, Weight } from '../layout/marks.js';
import { number } from './embedded-font.js';

/** What a page's operators need from the document: fonts and images by the names of its resources. */
export interface Pens {
  show(text: string, weight: Weight, sizePt: number): string;
  imageName(number: number): string;
  /** Opens the next marked-content sequence of an element on this page and returns its MCID. */
  mark(tag: Tag): number;
}

const FONT_NAME: Record<Weight, string> = { regular: 'F1', semibold: 'F2' };

/** PDF operators of one page. Marks have their origin top left; PDF has it bottom left. */
export function pageContent(marks: readonly Mark[], heightPt: number, pens: Pens): string {
  const out: string[] = [];
  let open: Tag | 'artifact' | null = null;
  for (const mark of marks) {
    const owner = 'tag' in mark && mark.tag !== null ? mark.tag : 'artifact';
    if (owner !== open) {
      if (open !== null) out.push('EMC');
      out.push(owner === 'artifact' ? '/Artifact BMC' : `/${owner.role} <</MCID ${pens.mark(owner)}>> BDC`);
      open = owner;
    }
    out.push(operators(mark, heightPt, pens));
  }
  if (open !== null) out.push('EMC');
  return out.join('\n');
}

function operators(mark: Mark, heightPt: number, pens: Pens): string {
  const y = (yPt: number) => number(heightPt - yPt);
  const x = number;
  switch (mark.kind) {
    case 'text':
      return [
        'BT',
        `${fillOf(mark.colour)} /${FONT_NAME[mark.weight]} ${number(mark.sizePt)} Tf`,
        `1 0 0 1 ${x(mark.xPt)} ${y(mark.yPt)} Tm`,
        pens.show(mark.text, mark.weight, mark.sizePt).trimEnd(),
        'ET',
      ].join('\n');
    case 'rule':
      return `q ${strokeOf(mark.colour)} ${number(mark.strokePt)} w ${x(mark.from.xPt)} ${y(mark.from.yPt)} m ${x(mark.to.xPt)} ${y(mark.to.yPt)} l S Q`;
    case 'panel':
      return `q ${fillOf(mark.colour)} ${box(mark.box, heightPt)} re f Q`;
    case 'picture': {
      const { xPt, yPt, widthPt, heightPt: highPt } = mark.box;
      return `q ${number(widthPt)} 0 0 ${number(highPt)} ${x(xPt)} ${y(yPt + highPt)} cm /${pens.imageName(mark.number)} Do Q`;
    }
    case 'shape': {
      const steps = mark.points.map(
        ({ xPt, yPt }, index) => `${x(xPt)} ${y(yPt)} ${index === 0 ? 'm' : 'l'}`,
      );
      const paint = mark.fill && mark.stroke ? 'B' : mark.fill ? 'f' : 'S';
      return [
        'q 1 j 1 J',
        mark.fill ? fillOf(mark.fill) : '',
        mark.stroke ? strokeOf(mark.stroke) : '',
        `${number(mark.strokePt)} w [${mark.dashPt.map(number).join(' ')}] 0 d`,
        ...steps,
        `${mark.closed ? 'h ' : ''}${paint} Q`,
      ]
        .filter((part) => part !== '')
        .join('\n');
    }
  }
}

const rgb = (colour: Colour): string => colour.map(number).join(' ');
const fillOf = (colour: Colour): string => `${rgb(colour)} rg`;
const strokeOf = (colour: Colour): string => `${rgb(colour)} RG`;
const box = ({ xPt, yPt, widthPt, heightPt: high }: Rect, pagePt: number): string =>
  [xPt, pagePt - yPt - high, widthPt, high].map(number).join(' ');
