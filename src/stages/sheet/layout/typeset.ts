import type { FontBook } from './font-book.js';
import { type Colour, INK, type Tag, type TextMark, type Weight } from './marks.js';
import type { Piece } from './piece.js';
import type { TypeStyle } from './type-scale.js';

/** A stretch of text in one weight and colour. */
export interface Run {
  text: string;
  weight: Weight;
  colour: Colour;
}

export const run = (text: string, weight: Weight = 'regular', colour: Colour = INK): Run => ({
  text,
  weight,
  colour,
});

/** One line of text: words of one style joined, with x from the line's left edge. */
export interface Line {
  parts: (Run & { xPt: number })[];
  widthPt: number;
}

interface Word {
  parts: Run[];
  widthPt: number;
}

/**
 * Breaks runs into lines no wider than `widthPt`. A word wider than a line is broken where it must be. Every line
 * but the last ends with a space, or text copied out of the PDF would run words together.
 */
export function breakLines(runs: readonly Run[], sizePt: number, widthPt: number, fonts: FontBook): Line[] {
  const spacePt = fonts.measure(' ', 'regular', sizePt);
  const words = wordsOf(runs).flatMap((word) =>
    fitted(measured(word, sizePt, fonts), sizePt, widthPt, fonts),
  );
  const rows: Word[][] = [];
  let usedPt = Number.POSITIVE_INFINITY;
  for (const word of words) {
    if (usedPt + spacePt + word.widthPt > widthPt + 0.01) {
      rows.push([word]);
      usedPt = word.widthPt;
    } else {
      rows.at(-1)!.push(word);
      usedPt += spacePt + word.widthPt;
    }
  }
  return rows.map((row, index) => lineOf(row, index < rows.length - 1, sizePt, fonts));
}

/** Words keep a no-break space inside; parts that touch without a space stay one word. */
function wordsOf(runs: readonly Run[]): Run[][] {
  const words: Run[][] = [];
  let open = false;
  for (const { text, weight, colour } of runs) {
    for (const token of text.split(/([ \t\r\n]+)/)) {
      if (token === '') continue;
      if (/^[ \t\r\n]+$/.test(token)) {
        open = false;
      } else {
        const part = { text: token, weight, colour };
        if (open) words.at(-1)!.push(part);
        else words.push([part]);
        open = true;
      }
    }
  }
  return words;
}

function measured(parts: Run[], sizePt: number, fonts: FontBook): Word {
  return {
    parts,
    widthPt: parts.reduce((sum, part) => sum + fonts.measure(part.text, part.weight, sizePt), 0),
  };
}

function fitted(word: Word, sizePt: number, widthPt: number, fonts: FontBook): Word[] {
  if (word.widthPt <= widthPt) return [word];
  const pieces: Run[][] = [[]];
  let usedPt = 0;
  for (const part of word.parts) {
    for (const { segment } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(part.text)) {
      const charPt = fonts.measure(segment, part.weight, sizePt);
      if (usedPt + charPt > widthPt && usedPt > 0) {
        pieces.push([]);
        usedPt = 0;
      }
      const piece = pieces.at(-1)!;
      const last = piece.at(-1);
      if (last && last.weight === part.weight && last.colour === part.colour) last.text += segment;
      else piece.push({ ...part, text: segment });
      usedPt += charPt;
    }
  }
  return pieces.map((piece) => measured(piece, sizePt, fonts));
}

function lineOf(words: readonly Word[], wraps: boolean, sizePt: number, fonts: FontBook): Line {
  const parts: (Run & { xPt: number })[] = [];
  let xPt = 0;
  words.forEach((word, index) => {
    const spaced = index < words.length - 1 || wraps;
    word.parts.forEach((part, at) => {
      const text = spaced && at === word.parts.length - 1 ? `${part.text} ` : part.text;
      const last = parts.at(-1);
      const widthPt = fonts.measure(text, part.weight, sizePt);
      if (last && last.weight === part.weight && last.colour === part.colour) last.text += text;
      else parts.push({ ...part, text, xPt });
      xPt += widthPt;
    });
  });
  const trailingPt = wraps ? fonts.measure(' ', words.at(-1)?.parts.at(-1)?.weight ?? 'regular', sizePt) : 0;
  return { parts, widthPt: xPt - trailingPt };
}

/** Baseline below the top of a line: Source Sans 3's capitals then sit optically centred in the leading. */
const baselinePt = (style: TypeStyle): number =>
  style.leadingPt - (style.leadingPt - style.sizePt) / 2 - style.sizePt * 0.2;

export function lineMarks(
  line: Line,
  style: TypeStyle,
  tag: Tag | null,
  xPt: number,
  topPt: number,
): TextMark[] {
  return line.parts.map((part) => ({
    kind: 'text',
    tag,
    xPt: xPt + part.xPt,
    yPt: topPt + baselinePt(style),
    sizePt: style.sizePt,
    weight: part.weight,
    colour: part.colour,
    text: part.text,
  }));
}

/** Marks of a whole paragraph and its height. */
export function textBlock(
  runs: readonly Run[],
  at: { style: TypeStyle; widthPt: number; tag: Tag | null; xPt?: number; topPt?: number },
  fonts: FontBook,
): { marks: TextMark[]; heightPt: number; lines: number } {
  const lines = breakLines(runs, at.style.sizePt, at.widthPt, fonts);
  const marks = lines.flatMap((line, index) =>
    lineMarks(line, at.style, at.tag, at.xPt ?? 0, (at.topPt ?? 0) + index * at.style.leadingPt),
  );
  return { marks, heightPt: lines.length * at.style.leadingPt, lines: lines.length };
}

/** One line whose right end is at `rightPt`; never wraps. */
export function rightAligned(
  runs: readonly Run[],
  at: { style: TypeStyle; rightPt: number; topPt: number; tag: Tag | null },
  fonts: FontBook,
): TextMark[] {
  const line = breakLines(runs, at.style.sizePt, Number.MAX_SAFE_INTEGER, fonts)[0];
  return line ? lineMarks(line, at.style, at.tag, at.rightPt - line.widthPt, at.topPt) : [];
}

/** Short paragraphs move whole; a long one may break, but never leaves fewer than two lines on either page. */
const WHOLE_LINES = 8;

export function paragraphPieces(
  runs: readonly Run[],
  at: { style: TypeStyle; widthPt: number; tag: Tag; beforePt: number; xPt?: number },
  fonts: FontBook,
): Piece[] {
  const lines = breakLines(runs, at.style.sizePt, at.widthPt, fonts);
  return lines.map((line, index) => ({
    heightPt: at.style.leadingPt,
    beforePt: index === 0 ? at.beforePt : 0,
    keepWithNext:
      index < lines.length - 1 && (lines.length <= WHOLE_LINES || index === 0 || index === lines.length - 2),
    marks: lineMarks(line, at.style, at.tag, at.xPt ?? 0, 0),
  }));
}
