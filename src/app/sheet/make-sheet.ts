import { createHash } from 'node:crypto';
import { join } from 'node:path';
import {
  loadCodes,
  type Practice,
  removeFile,
  saveCodes,
  shareCodeFor,
  writeOpenly,
} from '../../practice/index.js';
import { drawSheet, planSheet, type SheetPlan, sheetRecord } from '../../stages/sheet/index.js';
import type { PictureRecord } from '../../trade/case-record.js';
import { displayPath } from '../display-path.js';
import { jsonBytes } from '../json-bytes.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { endWithdrawn } from '../share/end-withdrawn.js';
import { type Withdrawal, withdrawalFor } from '../share/withdrawal.js';
import type { StandingCase } from '../standing-case.js';
import { orTrouble } from '../trouble.js';
import { findTemplate } from './find-template.js';
import { printPictures } from './print-pictures.js';

export interface SheetWish {
  template: string;
  /** Largest size of the PDF in megabytes (10^6 bytes), for e-mail. */
  maxMegabytes?: number;
  /** Draws at this resolution only, as a sheet that stands was drawn. */
  maxDpi?: number;
}

export type MadeSheet =
  | {
      kind: 'made';
      /** Relative to the practice folder. */
      sheet: string;
      shareCode: string;
      /** Of the template as it was when the sheet was drawn. */
      audience: string;
      /** Of the PDF. */
      sha256: string;
      /** What it shows: figure, and number of the picture within the case. */
      shown: { figure: number; number: number }[];
      pages: number;
      bytes: number;
      /** What was reduced to keep within `maxMegabytes`, in words; null when nothing had to be. */
      reduced: string | null;
      tooLarge: boolean;
    }
  | { kind: 'refused'; errors: ErrorReport[]; withdrawn?: Withdrawal };

/** Resolutions tried in turn until the sheet is small enough; text and drawings are never reduced. */
export const DPI_STEPS: readonly number[] = [300, 220, 150, 110];

/** Draws a sheet of a case from its display pictures and puts it, with the list of what it shows, under sheets/. */
export async function makeSheet(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  wish: SheetWish,
): Promise<MadeSheet> {
  const found = await findTemplate(practice, wish.template);
  if (found.kind === 'refused') return found;
  const withdrawn = await withdrawalFor(practice, standing, found.template.audience);
  if (withdrawn) return refuseWithdrawn(practice, standing.record.case, wish.template, withdrawn);
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
  const drawn = await drawWithin(practice, ports, { ...standing, record }, planned.plan, wish);
  const { audience } = found.template;
  return { ...(await store(practice, record.case, wish.template, drawn)), shareCode, audience };
}

/** No sheet is drawn for those who may no longer see it, and the one that stood goes. */
async function refuseWithdrawn(
  practice: Practice,
  code: string,
  template: string,
  withdrawn: Withdrawal,
): Promise<MadeSheet> {
  for (const ext of ['pdf', 'json']) {
    orTrouble(await removeFile(join(practice.paths.cases, code, 'sheets', `${template}.${ext}`)));
  }
  return { kind: 'refused', errors: [await endWithdrawn(practice, withdrawn)], withdrawn };
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
  { maxMegabytes, maxDpi: wished }: SheetWish,
): Promise<Drawn> {
  const limitBytes = maxMegabytes === undefined ? Number.POSITIVE_INFINITY : maxMegabytes * 1e6;
  const [best, ...lower] = (wished === undefined ? DPI_STEPS : [wished]) as [number, ...number[]];
  const drawAt = async (maxDpi: number) => {
    const planned = { ...plan, maxDpi };
    return { plan: planned, pdf: await draw(practice, ports, standing, planned) };
  };
  let drawn = await drawAt(best);
  let reduced: string | null = null;
  for (const maxDpi of lower) {
    if (drawn.pdf.length <= limitBytes) break;
    drawn = await drawAt(maxDpi);
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
  const sha256 = createHash('sha256').update(pdf).digest('hex');
  const shown = plan.shown.map(({ figure, picture: { number } }) => ({ figure, number }));
  const pages = plan.pages.length;
  return { kind: 'made' as const, sheet, sha256, shown, pages, bytes: pdf.length, reduced, tooLarge };
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
