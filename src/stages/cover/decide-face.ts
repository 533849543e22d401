import { fileKey } from '../../core/file-key.js';
import type { Reason } from '../../core/reasons.js';
import type { FoundFace } from '../../finders/finder.js';
import type { ViewWord } from '../../trade/views.js';
import type { Answer } from '../../trade/visit-document.js';
import { isSigned } from './kept-texts.js';

export type FaceDecision =
  | { kind: 'clear' }
  | { kind: 'held'; reason: Reason }
  /** Audiences of templates that may see the picture; none = the private record only. */
  | { kind: 'limited'; audiences: string[] };

/**
 * A picture that shows a face, or may, waits for a named person's answer, and then serves only the audiences which
 * that answer names (45 CFR 164.514(b)(2)(i)(Q): full-face photographs and comparable images). Who sees that there is
 * no face says so in `why` and names every audience that may have the picture.
 */
export function decideFace(input: {
  view: ViewWord;
  faces: readonly FoundFace[];
  answers: readonly Answer[];
  file: string;
}): FaceDecision {
  const { view, faces, file } = input;
  if (view !== 'extraoral' && faces.length === 0) return { kind: 'clear' };
  const answers = input.answers.filter((answer) => answer.code === 'face' && isSigned(answer));
  const own = answers.filter((answer) => answer.file !== null && fileKey(answer.file) === fileKey(file));
  const [first, ...others] = own;
  if (!first) {
    // An answer for all pictures lets none out: it would speak for those that are added later as well.
    return answers.some((answer) => answer.file === null)
      ? { kind: 'limited', audiences: [] }
      : { kind: 'held', reason: { code: 'face', because: view === 'extraoral' ? view : 'found' } };
  }
  // Two answers that differ: only what both allow.
  const audiences = first.audience.filter((one) => others.every(({ audience }) => audience.includes(one)));
  return { kind: 'limited', audiences: [...new Set(audiences)].sort() };
}
