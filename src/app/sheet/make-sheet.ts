import { join } from 'node:path';
import { loadCodes, type Practice, saveCodes, shareCodeFor, writeOpenly } from '../../practice/index.js';
import { drawSheet, planSheet, type SheetPlan, sheetRecord } from '../../stages/sheet/index.js';
import type { PictureRecord } from '../../trade/case-record.js';
import { displayPath } from '../display-path.js';
import { jsonBytes } from '../json-bytes.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import type { StandingCase } from '../standing-case.js';
import { orTrouble } from '../trouble.js';
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
  const record = standing.recordFor(found.template.audience);
  const shareCode = await shareCodeOf(practice, ports, record.case, found.template.audience);
  const planned = await planSheet({
    template: found.template,
    record,
    shareCode,
    settings: practice.settings,
    fonts: await ports.fonts(),
  });
  if (!planned.ok) {
    const where = { file: 'visit.yaml', line: 1, column: 1, field: 'sheet' };
    return { kind: 'refused', errors: planned.problems.map((sentence) => ({ ...where, sentence })) };
  }
  const drawn = await drawWithin(practice, ports, { ...standing, record }, planned.plan, wish.maxMegabytes);
  return { ...(await store(practice, record.case, wish.template, drawn)), shareCode };
}

interface Drawn {
  plan: SheetPlan;
  pdf: Uint8Array;
  reduced: string | null;
  tooLarge: boolean;
}

/** Draws at the highest resolution that fits; the layout is the same at each. */
async function drawWithin(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  plan: SheetPlan,
  maxMegabytes: number | undefined,
): Promise<Drawn> {
  const limitBytes = maxMegabytes === undefined ? Number.POSITIVE_INFINITY : maxMegabytes * 1e6;
  const [best, ...lower] = DPI_STEPS;
  let drawn = { plan, pdf: await draw(practice, ports, standing, { ...plan, maxDpi: best }) };
  let reduced: string | null = null;
  for (const maxDpi of lower) {
    if (drawn.pdf.length <= limitBytes) break;
    drawn = { plan, pdf: await draw(practice, ports, standing, { ...plan, maxDpi }) };
    reduced = `pictures reduced from ${best} to ${maxDpi} dots per inch`;
  }
  return { ...drawn, reduced, tooLarge: drawn.pdf.length > limitBytes };
}

async function draw(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  plan: SheetPlan,
): Promise<Uint8Array> {
  const { record, displays } = standing;
  const pathOf = (picture: PictureRecord) =>
    displayPath(practice, record.case, picture, displays.get(picture.number));
  return drawSheet(plan, await printPictures(practice, ports, { record, displays, pathOf }, plan));
}

async function store(
  practice: Practice,
  code: string,
  name: string,
  { plan, pdf, reduced, tooLarge }: Drawn,
) {
  const path = (ext: string): string => join(practice.paths.cases, code, 'sheets', `${name}.${ext}`);
  orTrouble(await writeOpenly(path('pdf'), pdf));
  orTrouble(await writeOpenly(path('json'), jsonBytes(sheetRecord(plan))));
  const sheet = `cases/${code}/sheets/${name}.pdf`;
  return { kind: 'made' as const, sheet, pages: plan.pages.length, bytes: pdf.length, reduced, tooLarge };
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
