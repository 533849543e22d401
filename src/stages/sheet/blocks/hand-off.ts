import type { CourseRecord } from '../../../trade/case-record.js';
import { LINE, type Mark, tag } from '../layout/marks.js';
import { cell } from '../layout/page.js';
import { type Built, NOTHING, type Piece } from '../layout/piece.js';
import { paragraphPieces, run, textBlock } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { lastVisit, limit } from '../words/answer-sentences.js';
import { capital, clause } from '../words/stage-words.js';
import type { BlockContext } from './block-context.js';
import { sectionHeading } from './heading.js';

interface Entry {
  label: string;
  value: string;
  /** The answer paragraph says it too. */
  answered: boolean;
}

/** Narrower, two columns of label and value would tear every value apart. */
const NARROW_PT = 300;

/**
 * What the restoring dentist must know, as labels and values; what nobody recorded says so. `pick: rest` leaves out
 * what the answer paragraph says. Two columns, or a paragraph where the block is narrow.
 */
export function handOff(context: BlockContext, options: BlockOf<'hand-off'>, widthPt: number): Built {
  const all = handOffEntries(context.course);
  const entries = options.pick === 'rest' ? all.filter(({ answered }) => !answered) : all;
  if (entries.length === 0) return NOTHING;
  const narrow = widthPt < NARROW_PT;
  const heading = options.heading === undefined ? NOTHING : sectionHeading(options.heading, widthPt, context);
  const list = tag(narrow ? 'P' : 'L');
  const pieces: Piece[] = [...heading.pieces];
  if (narrow) pieces.push(...sentences(entries, list, widthPt, context));
  else
    for (let index = 0; index < entries.length; index += 2)
      pieces.push(pairRow(entries.slice(index, index + 2), list, widthPt, context));
  if (pieces.length <= WHOLE_ROWS) for (const piece of pieces.slice(0, -1)) piece.keepWithNext = true;
  return { pieces, tags: [...heading.tags, list] };
}

/** One paragraph: "Caries: removed. Margins: sound." */
function sentences(
  entries: readonly Entry[],
  element: ReturnType<typeof tag>,
  widthPt: number,
  context: BlockContext,
): Piece[] {
  const runs = entries.flatMap(({ label, value }) => [
    run(`${label}: `, 'semibold'),
    run(`${lowered(value)}. `),
  ]);
  const at = { style: context.type.table, widthPt, tag: element, beforePt: 7 };
  return paragraphPieces(runs, at, context.fonts);
}

/** "Removed" after a colon is "removed"; "MTA" stays. */
const lowered = (text: string): string =>
  /^\p{Lu}(?!\p{Lu})/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;

function handOffEntries(course: CourseRecord): Entry[] {
  const { handoff } = course;
  const last = lastVisit(course);
  const state = last?.state ?? null;
  const open = state !== null && state !== 'finished';
  const must = (label: string, text: string | null, answered = true): Entry[] => [
    { label, value: text === null ? 'Not recorded' : capital(clause(text)), answered },
  ];
  const may = (label: string, text: string | null) => (text === null ? [] : must(label, text));
  if (state === 'consultation' || course.kind === 'consultation') {
    return [
      ...must('Next step', handoff.next),
      ...must('Due', limit(handoff.due, course)),
      ...may('Advised', handoff.advise),
      ...must('Recall', handoff.recall),
    ];
  }
  const by = limit(handoff.by, course);
  return [
    ...must('Caries', handoff.caries, false),
    ...must('Margins', handoff.margins, false),
    ...may('Orifice barrier', handoff.barrier),
    ...may('Temporary', handoff.temporary),
    ...must('In the chamber', handoff.chamber),
    ...(open ? [...must('Next step', handoff.next), ...must('Due', limit(handoff.due, course))] : []),
    ...(open ? may('Advised', handoff.advise) : must('Advised', handoff.advise)),
    ...(open ? may('Time limit', by) : must('Time limit', by)),
    ...must('Restored by', handoff.restorer, !open),
    ...must('Recall', handoff.recall),
    ...must(
      'Mishaps',
      handoff.mishaps.length === 0 ? 'none recorded' : handoff.mishaps.map(clause).join('; '),
    ),
  ];
}

/** Up to this many rows move whole. */
const WHOLE_ROWS = 10;
const LABEL_PT = 84;
const ROW_PAD_PT = 3;

function pairRow(
  pair: { label: string; value: string }[],
  list: ReturnType<typeof tag>,
  widthPt: number,
  context: BlockContext,
): Piece {
  const style = context.type.table;
  const marks: Mark[] = [];
  let heightPt = 0;
  pair.forEach(({ label, value }, index) => {
    const column = cell(widthPt, 2, index, 1);
    const [lbl, body] = [tag('Lbl'), tag('LBody')];
    list.kids.push(tag('LI', [lbl, body]));
    const at = { style, topPt: ROW_PAD_PT };
    const head = textBlock(
      [run(label, 'semibold')],
      { ...at, widthPt: LABEL_PT - 6, tag: lbl, xPt: column.xPt },
      context.fonts,
    );
    const text = textBlock(
      [run(value)],
      { ...at, widthPt: column.widthPt - LABEL_PT, tag: body, xPt: column.xPt + LABEL_PT },
      context.fonts,
    );
    marks.push(...head.marks, ...text.marks);
    heightPt = Math.max(heightPt, head.heightPt, text.heightPt);
  });
  const totalPt = heightPt + 2 * ROW_PAD_PT;
  pair.forEach((_, index) => {
    const column = cell(widthPt, 2, index, 1);
    const yPt = totalPt;
    marks.push({
      kind: 'rule',
      from: { xPt: column.xPt, yPt },
      to: { xPt: column.xPt + column.widthPt, yPt },
      strokePt: 0.5,
      colour: LINE,
    });
  });
  return { heightPt: totalPt, beforePt: 0, keepWithNext: false, marks };
}
