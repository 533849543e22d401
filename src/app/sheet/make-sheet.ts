import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { loadCodes, type Practice, saveCodes, shareCodeFor, writeOpenly } from '../../practice/index.js';
import {
  drawSheet,
  planSheet,
  type SheetPlan,
  sheetRecord,
  type Template,
} from '../../stages/sheet/index.js';
import type { StandingCase } from '../finish-case.js';
import { jsonBytes } from '../json-bytes.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { orTrouble, Trouble } from '../trouble.js';
import { findTemplate } from './find-template.js';
import { printPictures } from './print-pictures.js';

export interface SheetWish {
  template: string;
  /** Largest size of the PDF in megabytes (10^6 bytes), for e-mail. */
  maxMegabytes?: number;
}

export type MadeSheet =
  | {
      kind: 'made';
      /** Relative to the practice folder. */
      sheet: string;
      shareCode: string;
      pages: number;
      bytes: number;
      /** What was reduced to keep within `maxMegabytes`, in words; null when nothing had to be. */
      reduced: string | null;
      tooLarge: boolean;
    }
  | { kind: 'refused'; errors: ErrorReport[] };

/** Resolutions tried in turn until the sheet is small enough; text and drawings are never reduced. */
const DPI_STEPS = [300, 220, 150, 110] as const;

/** Draws a sheet of a case from its display pictures and puts it, with the list of what it shows, under sheets/. */
export async function makeSheet(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  wish: SheetWish,
): Promise<MadeSheet> {
  const found = await findTemplate(practice, wish.template);
  if (found.kind === 'refused') return found;
  const shareCode = await shareCodeOf(practice, ports, standing.record.case, found.template.audience);
  const limit = wish.maxMegabytes === undefined ? Number.POSITIVE_INFINITY : wish.maxMegabytes * 1e6;
  for (const [at, dpi] of DPI_STEPS.entries()) {
    const drawn = await draw(practice, ports, standing, found.template, shareCode, dpi);
    if (drawn.kind === 'refused') return drawn;
    const fits = drawn.pdf.length <= limit;
    if (!fits && at < DPI_STEPS.length - 1) continue;
    return {
      ...(await store(practice, standing.record.case, wish.template, drawn)),
      shareCode,
      ...saying(dpi, fits),
    };
  }
  throw new Trouble({ code: 'bug', what: 'no resolution to draw at' });
}

const saying = (dpi: number, fits: boolean) => ({
  reduced: dpi === DPI_STEPS[0] ? null : `pictures reduced from ${DPI_STEPS[0]} to ${dpi} dots per inch`,
  tooLarge: !fits,
});

type Drawn = { kind: 'drawn'; pdf: Uint8Array; plan: SheetPlan } | { kind: 'refused'; errors: ErrorReport[] };

async function draw(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  template: Template,
  shareCode: string,
  maxDpi: number,
): Promise<Drawn> {
  const fonts = await ports.fonts();
  const { record } = standing;
  const planned = await planSheet({
    template,
    record,
    shareCode,
    settings: practice.settings,
    fonts,
    maxDpi,
  });
  if (!planned.ok) {
    const where = { file: 'visit.yaml', line: 1, column: 1, field: 'sheet' };
    return { kind: 'refused', errors: planned.problems.map((sentence) => ({ ...where, sentence })) };
  }
  const pictures = await printPictures(practice, ports, standing, planned.plan);
  return { kind: 'drawn', pdf: await drawSheet(planned.plan, pictures), plan: planned.plan };
}

async function store(
  practice: Practice,
  code: string,
  name: string,
  drawn: Extract<Drawn, { kind: 'drawn' }>,
) {
  const folder = join('cases', code, 'sheets');
  const path = (ext: string): string => join(practice.paths.cases, code, 'sheets', `${name}.${ext}`);
  orTrouble(await writeOpenly(path('pdf'), drawn.pdf));
  orTrouble(await writeOpenly(path('json'), jsonBytes(sheetRecord(drawn.plan))));
  const { length } = await readFile(path('pdf'));
  return {
    kind: 'made' as const,
    sheet: `${folder}/${name}.pdf`,
    pages: drawn.plan.pages.length,
    bytes: length,
  };
}

/** The share code of a case for an audience: drawn at the first sheet and kept, so that a rebuilt sheet keeps its bytes. */
export async function shareCodeOf(
  practice: Practice,
  ports: Ports,
  code: string,
  audience: string,
): Promise<string> {
  const book = orTrouble(await loadCodes(practice));
  const drawn = shareCodeFor(book, code, audience, ports.random);
  if (drawn.book !== book) orTrouble(await saveCodes(practice, drawn.book));
  return drawn.shareCode;
}
