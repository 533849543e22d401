import type { OrificeDiagram } from '../../../trade/anatomy/orifice-diagram.js';
import type { CanalEntry } from '../../../trade/visit-document.js';
import {
  INK,
  LINE,
  type Mark,
  PANEL,
  QUIET,
  type ShapeMark,
  type Tag,
  TINT,
  tag,
  WHITE,
} from '../layout/marks.js';
import { type Built, NOTHING, type Piece } from '../layout/piece.js';
import { run, textBlock } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { listed } from '../words/stage-words.js';
import { toothOf } from '../words/tooth-title.js';
import type { BlockContext } from './block-context.js';
import { SECTION_GAP_PT } from './heading.js';

/** Labels as large as the smallest text, which also sets how large the drawing is. */
const LABEL_PT = 9;

/** The chamber floor with the canals recorded, drawn from typical positions: schematic, and it says so. */
export function orificeDiagramBlock(
  context: BlockContext,
  _options: BlockOf<'orifice-diagram'>,
  widthPt: number,
): Built {
  const { course, record } = context;
  const { diagram } = context;
  if (diagram === null || diagram.orifices.length === 0) return NOTHING;
  const number = context.figures.next;
  context.figures.next += 1;
  const caption = tag('Caption');
  const figure: Tag = { ...tag('Figure', [caption]), alt: altOf(diagram, toothOf(record.tooth)) };
  const labelPt = Math.max(LABEL_PT, context.settings.minimumText);
  const ptPerMm = Math.min(labelPt / diagram.textMm, widthPt / diagram.widthMm);
  const leftPt = (widthPt - diagram.widthMm * ptPerMm) / 2;
  const heightPt = diagram.heightMm * ptPerMm;
  const marks = diagramMarks(diagram, { ptPerMm, leftPt, heightPt, labelPt, figure }, context);
  const text = textBlock(
    [run(`Fig.\u00a0${number}  `, 'semibold'), run(captionOf(diagram, course.canals), 'regular', QUIET)],
    { style: context.type.caption, widthPt, tag: caption, topPt: heightPt + 2 },
    context.fonts,
  );
  const piece: Piece = {
    heightPt: heightPt + 2 + text.heightPt,
    beforePt: SECTION_GAP_PT,
    keepWithNext: false,
    marks: [...marks, ...text.marks],
  };
  return { pieces: [piece], tags: [figure] };
}

function captionOf(diagram: OrificeDiagram, canals: readonly CanalEntry[]): string {
  const filled = diagram.orifices.some((orifice) => orifice.filled);
  const open = diagram.orifices.some((orifice) => !orifice.filled);
  const parts = ['Chamber floor from above: schematic, typical positions, not to scale.'];
  if (filled) parts.push(open ? 'Solid: filled; open: no filling recorded.' : 'Solid: filled.');
  if (diagram.joins.length > 0) parts.push('Dashed: canals that join.');
  const unplaced = diagram.unplaced.filter((label) => canals.some(({ canal }) => canal === label));
  if (unplaced.length > 0) parts.push(`Recorded, not drawn: ${listed(unplaced)}.`);
  return parts.join(' ');
}

const altOf = (diagram: OrificeDiagram, tooth: string): string =>
  `Schematic drawing of the chamber floor of the ${tooth} from above with ${listed(
    diagram.orifices.map(({ label, filled }) => `${label}${filled ? ' (filled)' : ''}`),
  )}.`;

interface Placing {
  ptPerMm: number;
  leftPt: number;
  heightPt: number;
  labelPt: number;
  figure: Tag;
}

type PointMm = { x: number; y: number };

function diagramMarks(diagram: OrificeDiagram, at: Placing, context: BlockContext): Mark[] {
  const shape = (points: readonly PointMm[], look: Partial<ShapeMark>): ShapeMark => ({
    kind: 'shape',
    tag: at.figure,
    points: points.map((point) => toPage(point, at)),
    closed: true,
    fill: null,
    stroke: null,
    strokePt: 0.6,
    dashPt: [],
    ...look,
  });
  const open = { closed: false, stroke: INK };
  const drawn = [
    shape(diagram.outline, { fill: PANEL, stroke: INK, strokePt: 1.1 }),
    shape(diagram.cej, { stroke: LINE, dashPt: [2, 2] }),
    ...diagram.orifices.map((orifice) => shape(labelBed(orifice, at, context), { fill: PANEL })),
    shape(diagram.access, { fill: WHITE, stroke: INK, strokePt: 0.8 }),
    shape(diagram.floor, { fill: TINT }),
    ...diagram.grooves.map((points) => shape(points, { ...open, stroke: QUIET, strokePt: 0.6 })),
    ...diagram.joins.map(({ path }) => shape(path, { ...open, strokePt: 0.9, dashPt: [2, 1.6] })),
    ...diagram.orifices.map((orifice) =>
      shape(orifice.shape, { fill: orifice.filled ? INK : WHITE, stroke: INK, strokePt: 0.9 }),
    ),
    ...diagram.orifices.flatMap(({ labelAt }) =>
      labelAt.leader ? [shape(labelAt.leader, { ...open, strokePt: 0.5 })] : [],
    ),
  ].filter(({ points }) => points.length > 1);
  const labels = diagram.orifices.map(({ label, labelAt }) =>
    word(label, labelAt, labelAt.anchor, 'semibold', at, context),
  );
  const letters = diagram.letters.map((letter) =>
    word(letter.text, letter, 'middle', 'regular', at, context),
  );
  return [...drawn, ...labels, ...letters];
}

/** A pale bed under a label hides the dashes of the neck line there. */
function labelBed(
  { label, labelAt }: OrificeDiagram['orifices'][number],
  at: Placing,
  context: BlockContext,
) {
  const widthMm = context.fonts.measure(label, 'semibold', at.labelPt) / at.ptPerMm;
  const left = labelAt.x - { start: 0, middle: widthMm / 2, end: widthMm }[labelAt.anchor];
  const [pad, top] = [1 / at.ptPerMm, (at.labelPt * 0.75) / at.ptPerMm];
  const [x0, x1, y0, y1] = [left - pad, left + widthMm + pad, labelAt.y - pad, labelAt.y + top];
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
}

const toPage = ({ x, y }: PointMm, at: Placing) => ({
  xPt: at.leftPt + x * at.ptPerMm,
  yPt: at.heightPt - y * at.ptPerMm,
});

function word(
  text: string,
  point: PointMm,
  anchor: 'start' | 'middle' | 'end',
  weight: 'regular' | 'semibold',
  at: Placing,
  context: BlockContext,
): Mark {
  const widthPt = context.fonts.measure(text, weight, at.labelPt);
  const { xPt, yPt } = toPage(point, at);
  const shift = { start: 0, middle: widthPt / 2, end: widthPt }[anchor];
  return {
    kind: 'text',
    tag: at.figure,
    xPt: xPt - shift,
    yPt,
    sizePt: at.labelPt,
    weight,
    colour: INK,
    text: `${text} `,
  };
}
