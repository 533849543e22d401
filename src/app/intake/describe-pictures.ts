import type { ShownPicture } from '../../stages/record/index.js';
import type { StoredVisit } from '../on-file.js';
import { type PictureReport, reported, unmade } from '../report.js';
import type { AbsentPicture } from './candidates.js';
import type { MadePicture } from './making.js';
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
    const notes = [...(facts?.notes ?? []), ...(image?.audiences ? [limitedNote(image.audiences)] : [])];
    return {
      source: file.name,
      sha256: file.sha256,
      ...NOTHING_SHOWN,
      ...outcomeOf(fate, madeBy.get(fate.candidate)),
      ...(image ? shownAs(code, image) : {}),
      ...(notes.length > 0 ? { notes } : {}),
    };
  });
  const left = ready.left.flatMap(({ source, sha256, status, reason }): PictureReport[] =>
    reason && status === 'unlabelled' ? [{ ...unmade(source, sha256, reason), status }] : [],
  );
  return [...lines, ...left, ...ready.absent.map(absentLine)];
}

/** A limited picture lies in private/, so no place of it is told. */
const shownAs = (code: string | null, { file, audiences, covers, look }: ShownPicture) => ({
  image: audiences ? null : `cases/${code}/${file}`,
  covered: covers?.length ?? 0,
  look: look ?? [],
});

const limitedNote = (audiences: readonly string[]): string =>
  audiences.length === 0
    ? 'Kept for the private record only, as answered; it stands on no sheet.'
    : `Shown only on sheets for: ${audiences.join(', ')}, as answered.`;

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
