import { ACCENT, INK, type Mark, QUIET, tag } from '../layout/marks.js';
import { type Built, NOTHING, type Piece } from '../layout/piece.js';
import { paragraphPieces, rightAligned, run, textBlock } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { answersOf } from '../words/answer-sentences.js';
import { visitText } from '../words/picture-words.js';
import { capital, STATE_TEXT } from '../words/stage-words.js';
import { notationsOf, titleOf } from '../words/tooth-title.js';
import type { BlockContext } from './block-context.js';

/** The practice's lines at the left; what the sheet is, and its share code, at the right. */
export function letterhead(context: BlockContext, options: BlockOf<'letterhead'>, widthPt: number): Built {
  const style = context.type.caption;
  const left = tag('P');
  const right = tag('P');
  const marks: Mark[] = [];
  let leftPt = 0;
  const lines = context.settings.letterhead;
  lines.forEach((text, index) => {
    const block = textBlock(
      [run(text, index === 0 ? 'semibold' : 'regular')],
      { style, widthPt: widthPt * 0.55, tag: left, topPt: leftPt },
      context.fonts,
    );
    marks.push(...block.marks);
    leftPt += block.heightPt;
  });
  const label = { style, tag: right, topPt: 0 };
  const code =
    context.notice === null
      ? [run('Share code '), run(context.shareCode, 'semibold')]
      : [run(context.notice, 'semibold')];
  if (lines.length === 0) {
    marks.push(
      ...textBlock(
        [run(options.label, 'semibold', ACCENT)],
        { style, widthPt: widthPt * 0.6, tag: right },
        context.fonts,
      ).marks,
    );
    marks.push(...rightAligned(code, { ...label, rightPt: widthPt }, context.fonts));
  } else {
    marks.push(
      ...rightAligned(
        [run(options.label, 'semibold', ACCENT)],
        { ...label, rightPt: widthPt },
        context.fonts,
      ),
    );
    marks.push(...rightAligned(code, { ...label, topPt: style.leadingPt, rightPt: widthPt }, context.fonts));
  }
  const heightPt = Math.max(leftPt, lines.length === 0 ? style.leadingPt : style.leadingPt * 2);
  const piece: Piece = { heightPt, beforePt: 0, keepWithNext: true, marks };
  return { pieces: [piece], tags: lines.length === 0 ? [right] : [left, right] };
}

/** Tooth in words and treatment; the two notations under it; a rule. */
export function title(context: BlockContext, _options: BlockOf<'title'>, widthPt: number): Built {
  const { type, fonts, course, record } = context;
  const heading = tag('H1');
  const text = titleOf(record.tooth, course.kind);
  const block = textBlock([run(text, 'semibold')], { style: type.title, widthPt, tag: heading }, fonts);
  const under = tag('P');
  const notes = [
    notationsOf(record.tooth),
    course.course > 1 ? `course ${course.course} of treatment` : null,
  ].filter((part) => part !== null);
  const line = textBlock(
    [run(notes.join(', '), 'regular', QUIET)],
    { style: type.subtitle, widthPt, tag: under, topPt: block.heightPt + 1 },
    fonts,
  );
  const heightPt = block.heightPt + 1 + line.heightPt + 8;
  const marks: Mark[] = [...block.marks, ...line.marks];
  marks.push({
    kind: 'rule',
    from: { xPt: 0, yPt: heightPt },
    to: { xPt: widthPt, yPt: heightPt },
    strokePt: 0.9,
    colour: INK,
  });
  const piece: Piece = {
    heightPt,
    beforePt: 10,
    keepWithNext: true,
    marks,
    bookmark: { title: text, level: 1 },
  };
  return { pieces: [piece], tags: notes.length > 0 ? [heading, under] : [heading] };
}

/** One paragraph that answers the reader's questions in the order they are asked. */
export function answer(context: BlockContext, _options: BlockOf<'answer'>, widthPt: number): Built {
  const paragraph = tag('P');
  const runs = answersOf(context.course).flatMap(({ label, text }) => [
    run(`${label} `, 'semibold'),
    run(`${text} `),
  ]);
  const at = { style: context.type.lead, widthPt, tag: paragraph, beforePt: 10 };
  return { pieces: paragraphPieces(runs, at, context.fonts), tags: [paragraph] };
}

/** Blank, to be filled in by hand: no sheet prints who the patient is. */
export function patientLine(context: BlockContext, options: BlockOf<'patient-line'>, widthPt: number): Built {
  const style = context.type.table;
  const element = tag('P');
  const block = textBlock(
    [run(options.label, 'semibold')],
    { style, widthPt, tag: element, topPt: 2 },
    context.fonts,
  );
  const startPt = context.fonts.measure(`${options.label} `, 'semibold', style.sizePt) + 3;
  const yPt = block.heightPt + 1.5;
  const marks: Mark[] = [
    ...block.marks,
    {
      kind: 'rule',
      from: { xPt: Math.min(startPt, widthPt - 20), yPt },
      to: { xPt: widthPt, yPt },
      strokePt: 0.7,
      colour: QUIET,
    },
  ];
  return { pieces: [{ heightPt: yPt + 1, beforePt: 10, keepWithNext: true, marks }], tags: [element] };
}

/** One line a visit: number, day and state. */
export function timeline(context: BlockContext, options: BlockOf<'timeline'>, widthPt: number): Built {
  const { course, type, fonts } = context;
  if (course.visits.length === 0) return NOTHING;
  const visits = course.visits.toSorted((a, b) => a.visit - b.visit);
  const years = [...new Set(visits.flatMap((visit) => (visit.year === null ? [] : [visit.year])))];
  const heading = tag('P');
  const list = tag('L');
  const yearText = years.length === 0 ? '' : ` (${years.join(', ')})`;
  const pieces = paragraphPieces(
    [run(options.heading, 'semibold'), run(yearText)],
    { style: type.table, widthPt, tag: heading, beforePt: 10 },
    fonts,
  );
  for (const visit of visits) {
    const body = tag('LBody');
    list.kids.push(tag('LI', [body]));
    const state = visit.state === null ? 'state not recorded' : STATE_TEXT[visit.state];
    const text = `${capital(visitText(visit, course))}: ${state}`;
    pieces.push(
      ...paragraphPieces([run(text)], { style: type.table, widthPt, tag: body, beforePt: 1 }, fonts),
    );
  }
  for (const piece of pieces.slice(0, 2)) piece.keepWithNext = pieces.length > 1;
  return { pieces, tags: [heading, list] };
}
