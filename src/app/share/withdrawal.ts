import { type Practice, readRegister, type ShareRecord, sharesIn } from '../../practice/index.js';
import { type ConsentKind, consentFor } from '../../trade/consent.js';
import type { StandingCase } from '../standing-case.js';
import { orTrouble } from '../trouble.js';

/** A consent that was given and taken back: nothing more is drawn or shared, and what went out is to be deleted. */
export interface Withdrawal {
  kind: ConsentKind;
  case: string;
  audience: string;
  /** Who got what while the consent stood, oldest first. */
  shared: Recipient[];
  /** One text a share code, to be sent to those who got it. Names no patient. */
  texts: { shareCode: string; text: string }[];
}

export interface Recipient {
  to: string;
  /** Day, ISO 8601. */
  on: string;
  shareCode: string;
  template: string;
  version: number;
}

export const recipientOf = ({ to, at, shareCode, template, version }: ShareRecord): Recipient => ({
  to,
  on: at.slice(0, 10),
  shareCode,
  template,
  version,
});

/**
 * The withdrawal that bars an audience, or null. A no that replaced an earlier yes in the same visit's sidecar left no
 * trace there; what was shared on consent is that trace.
 */
export async function withdrawalFor(
  practice: Practice,
  { record, consent }: Pick<StandingCase, 'record' | 'consent'>,
  audience: string,
): Promise<Withdrawal | null> {
  const { kind } = consentFor(audience);
  const { given, withdrawn } = consent[kind];
  if (given !== false) return null;
  const shared = sharesIn(orTrouble(await readRegister(practice))).shared.filter(
    (one) => one.case === record.case && one.basis === 'consent' && consentFor(one.audience).kind === kind,
  );
  if (!withdrawn && shared.length === 0) return null;
  const codes = [...new Set(shared.map(({ shareCode }) => shareCode))];
  return {
    kind,
    case: record.case,
    audience,
    shared: shared.map(recipientOf),
    texts: codes.map((shareCode) => ({ shareCode, text: askToDelete(shareCode) })),
  };
}

const askToDelete = (shareCode: string): string =>
  `The consent under which we shared the case sheet with the code ${shareCode} has been withdrawn. Please delete the sheet and its pictures in every place where you have them: files, e-mail, slides, printed copies, and backups as far as you can reach them. Please do not show or pass them on any more, ask the same of anyone you gave them to, and tell us when it is done.`;

/** What happened, then what to do. */
export function withdrawalSentence({ kind, audience, shared }: Withdrawal): string {
  const drawn = `The consent for ${kind} was withdrawn, so the sheet for "${audience}" is no longer drawn or shared, and the one that stood was removed.`;
  const asked =
    shared.length === 0
      ? 'Nothing was shared under it.'
      : `It was shared ${shared.length === 1 ? 'once' : `${shared.length} times`} under it: ask everyone who got it to delete it.`;
  return `${drawn} ${asked} Should the patient consent again, record it in the sidecar of a later visit with its date.`;
}
