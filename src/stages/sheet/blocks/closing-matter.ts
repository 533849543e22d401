import { isRadiograph } from '../../../trade/views.js';
import { QUIET, tag } from '../layout/marks.js';
import { type Built, NOTHING } from '../layout/piece.js';
import { paragraphPieces, run } from '../layout/typeset.js';
import type { BlockOf } from '../template/schema.js';
import { clause } from '../words/stage-words.js';
import type { BlockContext, ShownPicture } from './block-context.js';

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
    sentences.push('Pictures other than radiographs are not to scale; × is the setting of the microscope.');
  if (shown.some(({ picture }) => picture.flipped))
    sentences.push('A mirror view that was flipped reads as direct vision.');
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
