import type { ToothRef } from '../../../trade/tooth-ref.js';
import { flow } from '../layout/flow.js';
import { type FontBook, type FontBytes, openFonts } from '../layout/font-book.js';
import { INK, LINE, type Mark, QUIET, type Tag, tag } from '../layout/marks.js';
import { pageGeometry } from '../layout/page.js';
import { type Piece, stacked } from '../layout/piece.js';
import { type TypeStyle, typeScale } from '../layout/type-scale.js';
import { paragraphPieces, run, textBlock } from '../layout/typeset.js';
import { writeDocument } from '../pdf/write-document.js';
import { isSpan } from '../words/answer-sentences.js';
import { capital, clause } from '../words/stage-words.js';
import { notationsOf, toothOf } from '../words/tooth-title.js';
import { printable } from './printable.js';

export interface CoverSlipInput {
  shareCode: string;
  patient: { names: readonly string[]; chart: string | null; born: string | null };
  tooth: ToothRef;
  /** Visit dates as recorded, oldest first. */
  dates: readonly string[];
  /** Until when the reader should act, as the practice wrote it. */
  deadline: string | null;
  letterhead: readonly string[];
  fonts: FontBytes;
  paper: 'A4' | 'Letter';
}

const CAUTION =
  'Private. This slip says whose sheet this is. Send it by another way than the sheet, never in the same message or ' +
  'envelope, and by e-mail only encrypted. Keep it with the patient record or destroy it.';
const SMALLEST_PT = 9;
const LABEL_PT = 96;

/** Half a page that links a share code to a patient. Private: it names the patient. */
export async function drawCoverSlip(input: CoverSlipInput): Promise<Uint8Array> {
  const fonts = openFonts(input.fonts);
  const type = typeScale(SMALLEST_PT);
  const whole = pageGeometry(input.paper, type.footer.sizePt);
  const heightPt = whole.heightPt / 2;
  const geometry = { ...whole, heightPt, bottomPt: heightPt - whole.marginPt };
  const widthPt = geometry.contentWidthPt;
  const tags: Tag[] = [];
  const paragraph = (
    text: string,
    style: TypeStyle,
    beforePt: number,
    semibold = false,
    role: 'P' | 'H1' = 'P',
  ) => {
    const element = tag(role);
    tags.push(element);
    const colour = semibold ? INK : QUIET;
    const words = [run(printable(text, fonts), semibold ? 'semibold' : 'regular', colour)];
    return paragraphPieces(words, { style, widthPt, tag: element, beforePt }, fonts);
  };
  const pieces: Piece[] = [
    ...input.letterhead.flatMap((line, index) => paragraph(line, type.caption, 0, index === 0)),
    ...paragraph('Cover slip', type.title, 8, true, 'H1'),
    { ...stacked(factRows(input, widthPt, tags, type.body, fonts)), beforePt: 10 },
    ...paragraph(CAUTION, type.caption, 14),
  ];
  const { pages, bookmarks } = flow(pieces, geometry);
  const structure = tag('Document', tags);
  const laid = { pages, bookmarks, structure, language: 'en', identity: input.shareCode };
  return writeDocument({ ...laid, widthPt: geometry.widthPt, heightPt }, fonts, new Map());
}

/** "Within 4 weeks of 2026-02-25": a span counts from the last visit, which said so. */
function deadlineOf({ deadline, dates }: CoverSlipInput): string {
  if (deadline === null) return 'Not recorded';
  const last = dates.at(-1);
  return last !== undefined && isSpan(deadline) ? `Within ${clause(deadline)} of ${last}` : capital(deadline);
}

function factRows(
  input: CoverSlipInput,
  widthPt: number,
  tags: Tag[],
  style: TypeStyle,
  fonts: FontBook,
): Piece[] {
  const list = tag('L');
  tags.push(list);
  const { patient } = input;
  const tooth = [capital(toothOf(input.tooth)), notationsOf(input.tooth)].filter((part) => part !== null);
  const rows: [string, string][] = [
    ['Share code', input.shareCode],
    ['Patient', patient.names.join(', ') || 'Not recorded'],
    ['Born', patient.born ?? 'Not recorded'],
    ['Chart', patient.chart ?? 'Not recorded'],
    ['Tooth', tooth.join(', ')],
    [input.dates.length === 1 ? 'Visit' : 'Visits', input.dates.join(', ') || 'Not recorded'],
    ['Time limit', deadlineOf(input)],
  ];
  return rows.map(([label, value]) => {
    const [lbl, body] = [tag('Lbl'), tag('LBody')];
    list.kids.push(tag('LI', [lbl, body]));
    const head = textBlock([run(label, 'semibold')], { style, widthPt: LABEL_PT, tag: lbl, topPt: 3 }, fonts);
    const at = { style, widthPt: widthPt - LABEL_PT, tag: body, xPt: LABEL_PT, topPt: 3 };
    const text = textBlock([run(printable(value, fonts))], at, fonts);
    const yPt = Math.max(head.heightPt, text.heightPt) + 6;
    const marks: Mark[] = [...head.marks, ...text.marks];
    marks.push({
      kind: 'rule',
      from: { xPt: 0, yPt },
      to: { xPt: widthPt, yPt },
      strokePt: 0.5,
      colour: LINE,
    });
    return { heightPt: yPt, beforePt: 0, keepWithNext: false, marks };
  });
}
