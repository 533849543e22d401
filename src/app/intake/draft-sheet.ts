import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { keepsPicturesSealed, type Practice, removeFile, writeAtomically } from '../../practice/index.js';
import { buildCase } from '../../stages/record/index.js';
import { drawSheet, planSheet } from '../../stages/sheet/index.js';
import type { PictureRecord } from '../../trade/case-record.js';
import { visitsOfCase } from '../on-file.js';
import { findTemplate } from '../sheet/find-template.js';
import { printPictures } from '../sheet/print-pictures.js';
import { orTrouble } from '../trouble.js';
import type { DropContext } from './candidates.js';
import { filedPictures, nextNumber } from './filed-pictures.js';
import type { UncoveredPictures } from './make-pictures.js';
import type { MadePicture, ToMake } from './making.js';
import type { PlannedDocument } from './plan-document.js';
import { wishOf } from './search-pictures.js';

type ToMakePlan = Extract<PlannedDocument, { kind: 'to-make' }>;

const NOTICE = 'DRAFT, not yet searched for names or faces';

/** Of several documents in one sidecar the second and later get a number. */
const draftPath = (practice: Practice, folder: string, at: number): string =>
  join(practice.paths.drafts, folder, `not-yet-searched${at === 0 ? '' : `-${at + 1}`}.pdf`);

/** The draft is gone once the sheet itself is drawn. */
export async function removeDraftSheet({ practice, drop }: DropContext, at: number): Promise<void> {
  orTrouble(await removeFile(draftPath(practice, drop.name, at)));
}

/**
 * A first look at the sheet, under private/drafts, while the pictures are still being searched. It shows this visit's
 * pictures without covers, says so on every page, and is no copy that may leave. What cannot be laid out is left to the
 * sheet itself to say.
 */
export async function drawDraftSheet(
  context: DropContext,
  at: number,
  plan: ToMakePlan,
  uncovered: UncoveredPictures,
): Promise<void> {
  const { practice, ports, drop } = context;
  // It would lie in clear where pictures that may show a name lie encrypted, and a kill would leave it there.
  if (keepsPicturesSealed(practice)) return;
  const found = await findTemplate(practice, 'referrer');
  if (found.kind !== 'found') return;
  const made = plan.toMake.flatMap((fate) => madeOf(context, fate, uncovered));
  const { record, displays, waiting } = draftCase(context, at, plan, made);
  if (record.pictures.length === 0) return;
  const { settings } = practice;
  const fonts = await ports.fonts();
  const how = { template: found.template, record, shareCode: '000000', settings, fonts, notice: NOTICE };
  const planned = await planSheet(how);
  if (!planned.ok) return;
  const pathOf = ({ number }: PictureRecord): string => waiting.get(number) as string;
  const pictures = await printPictures(practice, ports, { record, displays, pathOf }, planned.plan);
  await mkdir(join(practice.paths.drafts, drop.name), { recursive: true, mode: 0o700 });
  const pdf = await drawSheet(planned.plan, pictures);
  orTrouble(await writeAtomically(draftPath(practice, drop.name, at), pdf, { mode: 0o600 }));
}

function madeOf({ practice }: DropContext, fate: ToMake, uncovered: UncoveredPictures): MadePicture[] {
  const { wish, key } = wishOf(practice, fate);
  const plain = uncovered.get(key);
  if (plain?.made.kind !== 'kept' || plain.waitsAt === null || fate.entry.view === 'extraoral') return [];
  const { displaySha256, displayFormat, ...size } = plain.made.value;
  const shown = { sha256: displaySha256, radiograph: wish.radiograph, flipped: wish.flip, ...size };
  return [{ kind: 'made', fate, waitsAt: plain.waitsAt, ext: displayFormat, shown }];
}

/** The case with this visit's newly made pictures only: those on file were searched, and stand on their own sheet. */
function draftCase(context: DropContext, at: number, plan: ToMakePlan, made: MadePicture[]) {
  const { onFile, documents, drop, sidecar } = context;
  const { document } = documents[at] as DropContext['documents'][number];
  const { belonging, absent } = plan;
  const fates = made.map(({ fate }) => fate);
  const ready = {
    belonging,
    document,
    errors: [],
    folder: drop.name,
    sidecar,
    fates,
    absent,
    made,
    left: [],
  };
  const pictures = filedPictures(ready, nextNumber(onFile, belonging.code));
  const visit = { id: '', revision: 0, document, pictures };
  const earlier = belonging.code === null ? [] : visitsOfCase(onFile, belonging.code);
  const others = earlier
    .filter((one) => one.id !== belonging.visit?.id)
    .map((one) => ({ ...one, pictures: [] }));
  const displays = new Map<number, string>();
  const waiting = new Map<number, string>();
  for (const { source, number, shown } of pictures) {
    const one = made.find(({ fate }) => fate.candidate.file.name === source);
    if (!number || !shown || one?.kind !== 'made') continue;
    displays.set(number, shown.sha256);
    waiting.set(number, one.waitsAt as string);
  }
  return { record: buildCase('', document.tooth, [...others, visit]), displays, waiting };
}
