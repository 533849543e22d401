/**
 * Sharing: a reviewed, audited sheet goes to the outbox and into the register. Comes in: a case, a template, to whom.
 * Leaves: the files under outbox/<share code>/, or every reason against it at once. What the gate refuses was drawn
 * again and audited, but nothing of it has left.
 */
import type { Practice } from '../../practice/index.js';
import { caseOf } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { asOnlyWriter } from '../session.js';
import { findTemplate } from '../sheet/find-template.js';
import { readUnlocked } from '../unlocked.js';
import { reasonsAgainst } from './gate.js';
import { gatherFacts } from './gather-facts.js';
import { finishInterrupted } from './outbox.js';
import { releaseSheet } from './release-sheet.js';
import { refusal, type ShareReport } from './share-report.js';
import type { ShareWish } from './share-wish.js';

export { readRecipient } from './share-wish.js';

export type ShareAnswer =
  | { kind: 'answered'; report: ShareReport }
  | { kind: 'unknown-case' }
  | { kind: 'refused'; errors: ErrorReport[] };

export async function shareSheet(
  practice: Practice,
  ports: Ports,
  code: string,
  wish: ShareWish,
): Promise<ShareAnswer> {
  return asOnlyWriter(practice, 'share', async (): Promise<ShareAnswer> => {
    const found = await findTemplate(practice, wish.template);
    if (found.kind === 'refused') return found;
    const { audience } = found.template;
    const onFile = await readUnlocked(practice);
    const about = { case: code, template: wish.template, audience, to: wish.to };
    if (!onFile) return { kind: 'answered', report: refusal(about, [{ code: 'locked' }]) };
    if (!caseOf(onFile, code)) return { kind: 'unknown-case' };
    await finishInterrupted(practice, ports.now);
    const gathered = await gatherFacts(practice, ports, onFile, { ...wish, code, audience });
    if (gathered.kind === 'refused') return gathered;
    const { facts, ready } = gathered;
    const reasons = reasonsAgainst(facts);
    const report =
      reasons.length > 0 || !ready
        ? refusal(about, reasons, facts)
        : await releaseSheet(practice, ports, { about, facts, ready });
    return { kind: 'answered', report };
  });
}
