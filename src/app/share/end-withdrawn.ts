import type { Practice } from '../../practice/index.js';
import { type ConsentKind, consentFor } from '../../trade/consent.js';
import type { ErrorReport } from '../report.js';
import type { StandingCase } from '../standing-case.js';
import { retire } from './outbox.js';
import { type Withdrawal, withdrawalFor, withdrawalSentence } from './withdrawal.js';

/** Takes what must not be sent any more out of the outbox, and says so at the key of the sidecar. Under the lock. */
export async function endWithdrawn(practice: Practice, withdrawn: Withdrawal): Promise<ErrorReport> {
  const { case: code, kind } = withdrawn;
  await retire(practice, (one) => one.case !== code || consentFor(one.audience).kind !== kind);
  const where = { file: 'visit.yaml', line: 1, column: 1, field: `consent.${kind}` };
  const last = withdrawn.shared.at(-1);
  const who = last
    ? ` Who got it, and words to send to them: scopeleaf sheet ${code} -t ${last.template}`
    : '';
  return { ...where, sentence: `${withdrawalSentence(withdrawn)}${who}` };
}

/** The same for each of these kinds under which something of the case was shared. Under the lock. */
export async function endAllWithdrawn(
  practice: Practice,
  standing: Pick<StandingCase, 'record' | 'consent'>,
  kinds: readonly ConsentKind[],
): Promise<ErrorReport[]> {
  const errors: ErrorReport[] = [];
  for (const kind of kinds) {
    const withdrawn = await withdrawalFor(practice, standing, kind === 'referral' ? 'referrer' : kind);
    if (withdrawn && withdrawn.shared.length > 0) errors.push(await endWithdrawn(practice, withdrawn));
  }
  return errors;
}
