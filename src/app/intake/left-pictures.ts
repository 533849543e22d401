import { matchPictures } from '../../stages/label/index.js';
import type { FiledPicture } from '../../stages/record/index.js';
import type { StoredVisit } from '../on-file.js';
import type { DropContext } from './candidates.js';
import type { Candidate } from './sort-pictures.js';

/**
 * Pictures of the earlier revision that are no concern of this one: another picture took their name, or their line is
 * gone from this document. They stay on file with their number and stand on no sheet, so that none is lost in silence;
 * one that another document of the sidecar speaks of stays quietly.
 */
export function leftPictures(
  { documents, drop }: DropContext,
  earlier: StoredVisit | null,
  candidates: readonly Candidate[],
): FiledPicture[] {
  const before = earlier?.pictures ?? [];
  const here = new Set(candidates.map(({ file }) => file.sha256));
  const names = new Set(candidates.map(({ file }) => file.name));
  const inDrop = new Set(drop.files.map(({ sha256 }) => sha256));
  const match = matchPictures(
    documents,
    before.map(({ source }) => source),
  );
  const isSpokenOf = ({ source, sha256 }: FiledPicture): boolean =>
    inDrop.has(sha256) || match.documents.some((one) => one.labels.has(source) || one.held.has(source));
  return before
    .filter(({ sha256, status, number }) => !here.has(sha256) && (status !== 'duplicate' || number !== null))
    .map((picture): FiledPicture => {
      const left = { ...picture, entry: null, shown: null, duplicateOf: null };
      if (names.has(picture.source)) return { ...left, status: 'unlabelled', reason: { code: 'replaced' } };
      if (isSpokenOf(picture)) {
        return { ...left, status: 'duplicate', reason: null, duplicateOf: picture.source };
      }
      return { ...left, status: 'unlabelled', reason: { code: 'unlabelled' } };
    });
}
