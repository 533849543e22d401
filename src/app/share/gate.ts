import type { Settings } from '../../core/settings.js';
import type { ReviewRecord } from '../../practice/index.js';
import type { CaseRecord } from '../../trade/case-record.js';
import type { ConsentOverVisits } from '../../trade/consent.js';
import type { Audit } from '../audit/index.js';
import { openLooks, type SheetLook } from '../review/looks.js';
import { type Basis, basisFor } from './basis.js';
import type { GateReason } from './gate-reason.js';
import type { HeldOfCase } from './what-is-held.js';
import type { Withdrawal } from './withdrawal.js';

/** What is known of a sheet that somebody wishes to share. */
export interface GateFacts {
  case: string;
  template: string;
  audience: string;
  settings: Pick<Settings, 'referralBasis'>;
  consent: ConsentOverVisits;
  wantedBasis: Basis | null;
  withdrawal: Withdrawal | null;
  patient: { chart: string | null; names: readonly string[] };
  held: readonly HeldOfCase[];
  /** Pictures that stand in the case and were never searched, as the practice knows them. */
  unsearched: readonly string[];
  /** The record as this audience may see it. */
  pictures: CaseRecord['pictures'];
  /** Null when no sheet could be drawn. */
  drawn: DrawnSheet | null;
}

export interface DrawnSheet {
  /** Relative to the practice folder. */
  path: string;
  sha256: string;
  /** SHA-256 of the sheet that stood before it was drawn again; null when there was none. */
  stood: string | null;
  shown: readonly { figure: number; number: number }[];
  looks: readonly SheetLook[];
  /** Of this sheet, whatever its bytes were. */
  reviews: readonly ReviewRecord[];
  audit: Audit;
}

/** Everything that stands against sharing, all at once; none when it may leave. */
export function reasonsAgainst(facts: GateFacts): GateReason[] {
  const { drawn, patient, withdrawal } = facts;
  const reasons: GateReason[] = [];
  if (withdrawal) reasons.push({ code: 'consent-withdrawn', withdrawal });
  else reasons.push(...withoutBasis(facts));
  if (patient.chart === null && patient.names.length === 0) reasons.push({ code: 'nothing-to-search' });
  for (const { what, sentence } of facts.held) reasons.push({ code: 'held', what, sentence });
  for (const picture of facts.unsearched) reasons.push({ code: 'not-searched', picture });
  if (drawn) reasons.push(...againstSheet(facts, drawn));
  else if (!withdrawal) reasons.push({ code: 'nothing-kept' });
  return reasons;
}

function withoutBasis({ audience, consent, settings, wantedBasis }: GateFacts): GateReason[] {
  const answer = basisFor(audience, consent, settings, wantedBasis);
  if (answer.covers) return [];
  const { covers: _, ...rest } = answer;
  return [{ code: 'no-basis', ...rest }];
}

function againstSheet(facts: GateFacts, drawn: DrawnSheet): GateReason[] {
  const { audit, looks, reviews, sha256 } = drawn;
  const open = openLooks(looks, reviews, sha256);
  return [
    ...notReviewed(facts, drawn),
    ...open.map(({ figure, sentence }) => ({ code: 'look-open' as const, figure: figure ?? 0, sentence })),
    ...faces(facts, drawn),
    ...audit.hits.map((hit) => ({ code: 'audit-hit' as const, hit })),
    ...audit.unread.map(({ file, where = null, reason }) => ({
      code: 'audit-unread' as const,
      file,
      where,
      reason,
    })),
  ];
}

function notReviewed(facts: GateFacts, { path, sha256, stood, reviews }: DrawnSheet): GateReason[] {
  if (reviews.some((review) => review.sha256 === sha256)) return [];
  const unseen = stood === sha256 ? 'never' : 'redrawn';
  const because = stood === null ? 'drawn-now' : reviews.length > 0 ? 'changed' : unseen;
  const command = `scopeleaf review ${facts.case} -t ${facts.template} --by INITIALS`;
  return [{ code: 'not-reviewed', because, sheet: path, command }];
}

/**
 * The sheet's planner leaves out what an audience may not see; this looks again, since a face that leaves cannot be
 * called back (45 CFR 164.514(b)(2)(i)(Q)).
 */
function faces({ audience, pictures }: GateFacts, { shown }: DrawnSheet): GateReason[] {
  return shown.flatMap(({ figure, number }) => {
    const picture = pictures.find((one) => one.number === number);
    const isFor = picture?.limitedTo?.includes(audience) ?? false;
    const mayShowFace = !picture || picture.view === 'extraoral' || picture.limitedTo !== undefined;
    return mayShowFace && !isFor ? [{ code: 'face' as const, figure, audience }] : [];
  });
}
