/**
 * Review: a person says that they have seen exactly the bytes of a sheet that stands. Comes in: a case, a template,
 * initials. Leaves: a line in private/reviews.jsonl. Refused: a sheet that is not there. Nothing is drawn here, since
 * a sheet drawn now is one that nobody can have seen.
 */
import { appendReview, type Practice } from '../../practice/index.js';
import { caseOf } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { asOnlyWriter } from '../session.js';
import { findTemplate } from '../sheet/find-template.js';
import { readStandingSheet, sheetPath } from '../sheet/standing-sheet.js';
import { readCase } from '../standing-case.js';
import { orTrouble } from '../trouble.js';
import { readUnlocked } from '../unlocked.js';
import { looksOf, type SheetLook } from './looks.js';

export interface ReviewWish {
  template: string;
  /** Initials, already read by `readInitials`. */
  by: string;
  /** Told before anything is written down. */
  onLooks(sheet: string, looks: readonly SheetLook[]): void;
}

export type ReviewAnswer =
  | { kind: 'reviewed'; sheet: string; sha256: string; looks: SheetLook[] }
  | { kind: 'unknown-case' }
  | { kind: 'locked' }
  | { kind: 'no-sheet'; sheet: string }
  | { kind: 'refused'; errors: ErrorReport[] };

export async function reviewSheet(
  practice: Practice,
  ports: Pick<Ports, 'now'>,
  code: string,
  { template, by, onLooks }: ReviewWish,
): Promise<ReviewAnswer> {
  const found = await findTemplate(practice, template);
  if (found.kind === 'refused') return found;
  return asOnlyWriter(practice, 'review', async (): Promise<ReviewAnswer> => {
    const onFile = await readUnlocked(practice);
    if (!onFile) return { kind: 'locked' };
    if (!caseOf(onFile, code)) return { kind: 'unknown-case' };
    const standing = await readStandingSheet(practice, code, template);
    if (!standing) return { kind: 'no-sheet', sheet: sheetPath(code, template) };
    const record = readCase(onFile, code).recordFor(found.template.audience);
    const looks = looksOf(record, standing.shown);
    onLooks(standing.path, looks);
    const { sha256 } = standing;
    const at = ports.now().toISOString();
    const seen = looks.map(({ picture, sentence }) => ({ picture, sentence }));
    orTrouble(await appendReview(practice, { at, case: code, template, sha256, by, looks: seen }));
    return { kind: 'reviewed', sheet: standing.path, sha256, looks };
  });
}
