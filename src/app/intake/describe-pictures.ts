import type { StoredVisit } from '../on-file.js';
import { type PictureReport, reported, unmade } from '../report.js';
import type { AbsentPicture } from './candidates.js';
import type { MadePicture } from './make-pictures.js';
import type { ReadyVisit } from './ready-visit.js';
import type { Fate } from './sort-pictures.js';

const NOTHING_SHOWN = { image: null, covered: 0, look: [] as string[] };

/** A report line for each picture of a filed visit, absent ones included. */
export function reportPictures(
  ready: ReadyVisit,
  code: string | null,
  visit: StoredVisit | null,
): PictureReport[] {
  const madeBy = new Map(ready.made.map((one) => [one.fate.candidate, one]));
  const shown = new Map(
    visit?.pictures.flatMap((picture) => (picture.shown ? [[picture.source, picture.shown]] : [])),
  );
  const lines = ready.fates.map((fate): PictureReport => {
    const { file, facts } = fate.candidate;
    const image = shown.get(file.name);
    return {
      source: file.name,
      sha256: file.sha256,
      ...NOTHING_SHOWN,
      ...outcomeOf(fate, madeBy.get(fate.candidate)),
      ...(image ? { image: `cases/${code}/${image.file}` } : {}),
      ...(facts && facts.notes.length > 0 ? { notes: facts.notes } : {}),
    };
  });
  const left = ready.left.flatMap(({ source, sha256, status, reason }): PictureReport[] =>
    reason && status === 'unlabelled' ? [{ ...unmade(source, sha256, reason), status }] : [],
  );
  return [...lines, ...left, ...ready.absent.map(absentLine)];
}

function outcomeOf(
  fate: Fate,
  made: MadePicture | undefined,
): Pick<PictureReport, 'status'> & Partial<PictureReport> {
  if (fate.kind === 'held') return { status: 'held', reason: reported(fate.reason) };
  if (fate.kind === 'duplicate') return { status: 'duplicate', duplicateOf: fate.of };
  if (fate.kind === 'unlabelled') return { status: 'unlabelled', reason: reported({ code: 'unlabelled' }) };
  if (made?.kind === 'held' || made?.kind === 'failed') {
    return { status: made.kind, reason: reported(made.reason) };
  }
  return { status: 'kept' };
}

export const absentLine = ({ file, line }: AbsentPicture): PictureReport =>
  unmade(file, null, { code: 'listed-absent', line });

export const sayAbsent = (absent: readonly AbsentPicture[]): string =>
  `pictures that visit.yaml lists: ${absent.map((one) => one.file).join(', ')}`;
