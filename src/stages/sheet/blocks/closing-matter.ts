import type { CourseRecord } from '../../../trade/case-record.js';
import { isRadiograph } from '../../../trade/views.js';
import { LINE, type Mark, QUIET, tag } from '../layout/marks.js';
import { cell } from '../layout/page.js';
import { type Built, NOTHING, type Piece } from '../layout/piece.js';
import { paragraphPieces, run, textBlock } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { lastVisit, limit } from '../words/answer-sentences.js';
import { capital, clause } from '../words/stage-words.js';
import type { BlockContext, ShownPicture } from './block-context.js';
import { sectionHeading } from './heading.js';

/** Label and value in two columns; what the restoring dentist must know and nobody recorded says so. */
export function handOff(context: BlockContext, options: BlockOf<'hand-off'>, widthPt: number): Built {
  const entries = handOffEntries(context.course);
  const heading = sectionHeading(options.heading, widthPt, context);
  const list = tag('L');
  const pieces: Piece[] = [...heading.pieces];
  for (let index = 0; index < entries.length; index += 2) {
    pieces.push(pairRow(entries.slice(index, index + 2), list, widthPt, context));
  }
  if (pieces.length <= WHOLE_ROWS) for (const piece of pieces.slice(0, -1)) piece.keepWithNext = true;
  return { pieces, tags: [...heading.tags, list] };
}

function handOffEntries({ handoff, ...course }: CourseRecord): { label: string; value: string }[] {
  const state = lastVisit({ handoff, ...course })?.state ?? null;
  const open = state !== null && state !== 'finished';
  const must = (label: string, text: string | null) => [
    { label, value: text === null ? 'Not recorded' : capital(clause(text)) },
  ];
  const may = (label: string, text: string | null) => (text === null ? [] : must(label, text));
  const consultation = state === 'consultation' || course.kind === 'consultation';
  if (consultation) {
    return [
      ...must('Next step', handoff.next),
      ...must('Due', handoff.due),
      ...may('Advised', handoff.advise),
      ...must('Recall', handoff.recall),
    ];
  }
  return [
    ...must('Caries', handoff.caries),
    ...must('Margins', handoff.margins),
    ...must('Orifice barrier', handoff.barrier),
    ...must('Temporary', handoff.temporary),
    ...may('In the chamber', handoff.chamber),
    ...(open ? [...must('Next step', handoff.next), ...must('Due', handoff.due)] : []),
    ...(open ? may('Advised', handoff.advise) : must('Advised', handoff.advise)),
    ...(open ? may('Time limit', limit(handoff.by)) : must('Time limit', limit(handoff.by))),
    ...must('Restored by', handoff.restorer),
    ...must('Recall', handoff.recall),
    {
      label: 'Mishaps',
      value: handoff.mishaps.length === 0 ? 'None recorded' : capital(handoff.mishaps.map(clause).join('; ')),
    },
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

/** What was done to the pictures, and what they can bear. */
export function aboutTheseImages(
  context: BlockContext,
  options: BlockOf<'about-these-images'>,
  widthPt: number,
): Built {
  const sentences = aboutSentences(context.shown);
  if (sentences.length === 0) return NOTHING;
  return smallPrint(options.heading, [sentences.join(' ')], widthPt, context);
}

function aboutSentences(shown: readonly ShownPicture[]): string[] {
  if (shown.length === 0) return [];
  const sentences: string[] = [];
  const byWords = new Map<string, number[]>();
  for (const { figure, picture } of shown) {
    for (const words of picture.processing)
      byWords.set(clause(words), [...(byWords.get(clause(words)) ?? []), figure]);
  }
  for (const [words, figures] of byWords) sentences.push(`${figuresText(figures)}: ${words}.`);
  const covered = shown.filter(({ picture }) => picture.covered > 0).map(({ figure }) => figure);
  if (covered.length > 0)
    sentences.push(
      `${figuresText(covered)}: identifying text covered with solid boxes, nothing drawn in its place.`,
    );
  if (shown.some(({ toScale }) => toScale === true))
    sentences.push('Radiographs in a row with a bar share one scale; lengths on a film are two-dimensional.');
  if (shown.some(({ picture }) => !isRadiograph(picture.view)))
    sentences.push('Pictures other than radiographs are not to scale.');
  sentences.push('Adjustments apply to a whole picture, never to part of it; originals are kept.');
  return sentences;
}

/** "Figs. 1-4 and 7". */
export function figuresText(figures: readonly number[]): string {
  const sorted = [...new Set(figures)].toSorted((a, b) => a - b);
  const spans: [number, number][] = [];
  for (const figure of sorted) {
    const last = spans.at(-1);
    if (last && last[1] === figure - 1) last[1] = figure;
    else spans.push([figure, figure]);
  }
  const parts = spans.flatMap(([from, to]) =>
    to - from === 1 ? [`${from}`, `${to}`] : [from === to ? `${from}` : `${from}–${to}`],
  );
  const text = parts.length <= 1 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
  return `${sorted.length === 1 ? 'Fig.' : 'Figs.'}\u00a0${text}`;
}

export function cautions(context: BlockContext, options: BlockOf<'cautions'>, widthPt: number): Built {
  return smallPrint(options.heading, [options.sentences.join(' ')], widthPt, context);
}

/** Run-in heading and text in caption size. */
function smallPrint(heading: string, paragraphs: string[], widthPt: number, context: BlockContext): Built {
  const built: Built = { pieces: [], tags: [] };
  paragraphs.forEach((text, index) => {
    const element = tag('P');
    built.tags.push(element);
    const lead = index === 0 ? [run(`${heading}  `, 'semibold')] : [];
    built.pieces.push(
      ...paragraphPieces(
        [...lead, run(text, 'regular', QUIET)],
        { style: context.type.caption, widthPt, tag: element, beforePt: index === 0 ? 12 : 2 },
        context.fonts,
      ),
    );
  });
  return built;
}
