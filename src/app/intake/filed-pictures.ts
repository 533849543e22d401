import type { FiledPicture, ShownPicture } from '../../stages/record/index.js';
import { type OnFile, type StoredVisit, visitsOfCase } from '../on-file.js';
import type { MadePicture } from './making.js';
import type { ReadyVisit } from './ready-visit.js';

/** The number of the case's next picture: numbers are never used twice, whatever became of their pictures. */
export function nextNumber(onFile: OnFile, code: string | null): number {
  const visits = code === null ? [] : visitsOfCase(onFile, code);
  const used = visits.flatMap((visit) => visit.pictures.map((picture) => picture.number ?? 0));
  return Math.max(0, ...used) + 1;
}

/** "images/03-access.jpg": order of filing and stage, nothing else. */
export const imageName = (number: number, stage: string, ext: string): string =>
  `images/${String(number).padStart(2, '0')}-${stage}.${ext}`;

/**
 * Every picture of the visit as it goes on file, numbers given. A picture of an earlier revision that this sidecar no
 * longer names keeps its number and its original; it only stands on no sheet.
 */
export function filedPictures(ready: ReadyVisit, firstNumber: number): FiledPicture[] {
  const madeBy = new Map(ready.made.map((one) => [one.fate.candidate, one]));
  let next = firstNumber;
  const filed = ready.fates.flatMap((fate): FiledPicture[] => {
    const { file, facts, entry } = fate.candidate;
    if (file.sha256 === null) return [];
    const earlier = ready.belonging.visit?.pictures.find((picture) => picture.sha256 === file.sha256);
    const base = {
      source: file.name,
      sha256: file.sha256,
      extension: file.extension,
      facts,
      entry,
      reason: null,
      duplicateOf: null,
      number: earlier?.number ?? null,
      shown: null,
    };
    if (fate.kind === 'held') return [{ ...base, status: 'held', reason: fate.reason }];
    if (fate.kind === 'duplicate')
      return [{ ...base, number: null, status: 'duplicate', duplicateOf: fate.of }];
    if (fate.kind === 'unlabelled')
      return [{ ...base, status: 'unlabelled', reason: { code: 'unlabelled' } }];
    const made = madeBy.get(fate.candidate) as MadePicture;
    if ('reason' in made) return [{ ...base, status: made.kind, reason: made.reason }];
    const number = made.kind === 'on-file' ? made.number : (earlier?.number ?? next++);
    const ext = made.kind === 'made' ? made.ext : extOf(made.shown);
    const shown = { ...made.shown, file: imageName(number, fate.entry.stage, ext) };
    return [{ ...base, status: 'kept', number, shown }];
  });
  return [...filed, ...ready.left];
}

const extOf = (shown: ShownPicture): string => shown.file.split('.').at(-1) as string;

/** What could not be read or is absent: there is nothing of it to keep, but it is listed. */
export function unreadOf({ fates, absent }: ReadyVisit): StoredVisit['unread'] {
  const unread = fates.flatMap((fate) =>
    fate.kind === 'held' && fate.candidate.file.sha256 === null
      ? [{ source: fate.candidate.file.name, reason: fate.reason }]
      : [],
  );
  const missing = absent.map(({ file, line }) => ({
    source: file,
    reason: { code: 'listed-absent' as const, line },
  }));
  return [...unread, ...missing];
}
