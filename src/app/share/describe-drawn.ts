import { appendReview, type Practice } from '../../practice/index.js';
import type { CaseRecord } from '../../trade/case-record.js';
import type { OnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import { looksOf, reviewsOf, type SheetLook } from '../review/looks.js';
import type { MadeSheet } from '../sheet/make-sheet.js';
import type { StandingSheet } from '../sheet/standing-sheet.js';
import { orTrouble } from '../trouble.js';
import { auditContents } from './audit-contents.js';
import type { DrawnSheet } from './gate.js';
import { contentsAt, type ReadyContents } from './ready-contents.js';
import type { ShareWish } from './share-wish.js';

export interface Redrawn {
  asked: ShareWish & { code: string };
  /** As the audience may see it. */
  record: CaseRecord;
  made: Extract<MadeSheet, { kind: 'made' }>;
  /** The sheet that stood before. */
  stood: StandingSheet | null;
  ready: ReadyContents;
}

/** The sheet as drawn again, with what people have seen of it and what the audit makes of it. */
export async function describeDrawn(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  redrawn: Redrawn,
): Promise<DrawnSheet> {
  const { asked, record, made, stood, ready } = redrawn;
  const looks = looksOf(record, made.shown);
  if (stood?.sha256 === made.sha256) await recordReview(practice, ports, redrawn, looks);
  const contents = contentsAt(ready, 1);
  const { code } = asked;
  return {
    path: made.sheet,
    sha256: made.sha256,
    stood: stood?.sha256 ?? null,
    shown: made.shown,
    looks,
    reviews: await reviewsOf(practice, code, asked.template),
    audit: await auditContents(practice, ports, { onFile, code, shareCode: made.shareCode, contents }),
  };
}

/** Only of a sheet that stood already as it is now: nobody can have seen another one. */
async function recordReview(
  practice: Practice,
  ports: Pick<Ports, 'now'>,
  { asked, made }: Redrawn,
  looks: readonly SheetLook[],
): Promise<void> {
  const { code, template, reviewedBy: by, onLooks } = asked;
  if (by === null) return;
  onLooks(made.sheet, looks);
  const { sha256 } = made;
  const seen = looks.map(({ picture, sentence }) => ({ picture, sentence }));
  const at = ports.now().toISOString();
  orTrouble(await appendReview(practice, { at, case: code, template, sha256, by, looks: seen }));
}
