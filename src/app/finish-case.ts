import { access, readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import {
  appendJournal,
  type Practice,
  readJournal,
  removeFile,
  settleTimes,
  writeOpenly,
} from '../practice/index.js';
import type { Finding } from '../trade/case-record.js';
import type { ConsentKind } from '../trade/consent.js';
import { writeDicomCopies } from './dicom-copies.js';
import { jsonBytes } from './json-bytes.js';
import { type OnFile, readOnFile } from './on-file.js';
import type { Ports } from './ports.js';
import type { ErrorReport } from './report.js';
import { endAllWithdrawn } from './share/end-withdrawn.js';
import { readCase, type StandingCase } from './standing-case.js';
import { orTrouble } from './trouble.js';

/** What stands under cases/<CODE>/ after a filing. */
export interface FinishedCase {
  findings: Finding[];
  errors: ErrorReport[];
  /** Relative to the practice folder. */
  sheets: string[];
}

/** Writes case.json, DICOM copies, the referrer sheet and its cover slip, and journals that this revision is finished. */
export async function finishCase(
  practice: Practice,
  ports: Ports,
  code: string,
  visitId: string,
): Promise<FinishedCase> {
  const onFile = await readOnFile(practice);
  const standing = readCase(onFile, code);
  const { record, findings } = standing;
  const folder = join(practice.paths.cases, code);
  orTrouble(await writeOpenly(join(folder, 'case.json'), jsonBytes(record)));
  await removeSheets(join(folder, 'sheets'));
  await removeOldImages(join(folder, 'images'), new Set(record.pictures.map(({ file }) => basename(file))));
  const uncopied = await writeDicomCopies(practice, ports, onFile, code);
  // A sheet without a picture would say less than the record does.
  const shows = record.pictures.length > 0;
  const papers = shows ? await makePapers(practice, ports, onFile, standing) : { errors: [], sheets: [] };
  // The referrer's sheet tells of a withdrawal by itself; of the others nobody asked for a sheet.
  const kinds: ConsentKind[] = shows ? ['teaching', 'publication'] : ['referral', 'teaching', 'publication'];
  const withdrawn = await endAllWithdrawn(practice, standing, kinds);
  await settleTimes(folder);
  const revision = onFile.visits.get(visitId)?.revision ?? 0;
  const at = ports.now().toISOString();
  orTrouble(await appendJournal(practice, { kind: 'done', at, code, visit: visitId, revision }));
  return { findings, sheets: papers.sheets, errors: [...papers.errors, ...uncopied, ...withdrawn] };
}

/**
 * Sheets of an earlier revision may show what has since been held or corrected, so none stays: the referrer's is drawn
 * again at once, another by `sheet -t`. What was shared stays in the outbox until a later version or a withdrawal.
 */
async function removeSheets(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) orTrouble(await removeFile(join(folder, name)));
}

/** Display pictures under names of an earlier revision, also those that a kill left behind. */
async function removeOldImages(folder: string, current: ReadonlySet<string>): Promise<void> {
  const ours = /^\d{2,}-[a-z-]+\.(png|jpg)$/;
  for (const name of await readdir(folder).catch(() => [])) {
    if (ours.test(name) && !current.has(name)) orTrouble(await removeFile(join(folder, name)));
  }
}

async function makePapers(practice: Practice, ports: Ports, onFile: OnFile, standing: StandingCase) {
  // What draws sheets is heavy to load, and a visit that is on file already does not need it.
  const { makeSheet, writeCoverSlip } = await import('./sheet/make-papers.js');
  const made = await makeSheet(practice, ports, standing, { template: 'referrer' });
  if (made.kind !== 'made') return { errors: made.errors, sheets: [] };
  await writeCoverSlip(practice, ports, onFile, standing.record, made.shareCode);
  return { errors: [], sheets: [made.sheet] };
}

/** False while a kill, or words that could not be printed, have left a revision without its record or sheet. */
export async function isFinished(
  practice: Practice,
  { id, revision, code }: { id: string; revision: number; code: string },
  showsPictures: boolean,
): Promise<boolean> {
  const entries = orTrouble(await readJournal(practice));
  const isDone = entries.some(
    (entry) => entry['kind'] === 'done' && entry['visit'] === id && entry['revision'] === revision,
  );
  return isDone && (!showsPictures || (await referrerSheets(practice, code)).length > 0);
}

/** The referrer sheet as a report lists it, if it is there. */
export async function referrerSheets(practice: Practice, code: string): Promise<string[]> {
  const sheet = `cases/${code}/sheets/referrer.pdf`;
  const isThere = await access(join(practice.root, sheet)).then(
    () => true,
    () => false,
  );
  return isThere ? [sheet] : [];
}
