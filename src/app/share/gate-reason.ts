import { sentenceOf } from '../../core/reason-sentence.js';
import type { Reason } from '../../core/reasons.js';
import type { AuditHit } from '../../stages/audit/index.js';
import { kindWords } from '../audit/kind-words.js';
import type { BasisAnswer } from './basis.js';
import { type Withdrawal, withdrawalSentence } from './withdrawal.js';

/** Something that stands against sharing a sheet. Facts, never wording; never a value that identifies the patient. */
export type GateReason =
  | { code: 'locked' }
  | { code: 'nothing-kept' }
  | { code: 'nothing-to-search' }
  | {
      code: 'not-reviewed';
      because: 'never' | 'drawn-now' | 'redrawn' | 'changed';
      sheet: string;
      command: string;
    }
  | { code: 'look-open'; figure: number; sentence: string }
  | { code: 'held'; what: string; sentence: string }
  | { code: 'not-searched'; picture: string }
  | { code: 'face'; figure: number; audience: string }
  | ({ code: 'no-basis' } & Omit<Extract<BasisAnswer, { covers: false }>, 'covers'>)
  | { code: 'consent-withdrawn'; withdrawal: Withdrawal }
  | { code: 'audit-hit'; hit: AuditHit }
  | { code: 'audit-unread'; file: string; where: string | null; reason: Reason };

/** What was seen, then what to do. */
export function gateSentence(reason: GateReason): string {
  switch (reason.code) {
    case 'locked':
      return 'The private records are locked, so nothing can be checked. Unlock them with the key file or the passphrase, then share again.';
    case 'nothing-kept':
      return 'No picture of this case may be shown to this audience, so there is no sheet. See what waits for a person: scopeleaf held';
    case 'nothing-to-search':
      return 'The patient has neither a chart number nor a name on file, so the audit has nothing to search for. Write patient: {chart: ..., names: [...]} in visit.yaml and take the visit in again.';
    case 'not-reviewed':
      return `${NOT_REVIEWED[reason.because]} Open ${reason.sheet}, look at every picture, then: ${reason.command}`;
    case 'look-open':
      return `Figure ${reason.figure} waits for a look. ${reason.sentence} Or look at it on the sheet and review the sheet: that settles it.`;
    case 'held':
      return `${reason.what} is held. ${reason.sentence}`;
    case 'not-searched':
      return `${reason.picture} dates from before pictures were searched for text and faces. Take its visit in again.`;
    case 'face':
      return `Figure ${reason.figure} may show a face, and nobody has allowed it for "${reason.audience}". Write audience: in the answer to the face in visit.yaml, or take the picture off, then take the visit in again.`;
    case 'no-basis':
      return basisSentence(reason);
    case 'consent-withdrawn':
      return withdrawalSentence(reason.withdrawal);
    case 'audit-hit':
      return `The audit found ${kindWords(reason.hit.kind)} in ${placeOf(reason.hit)}. Look there; correct visit.yaml, or cover the place with cover: in the picture's line, and take the visit in again.`;
    case 'audit-unread':
      return `The audit could not read ${reason.where === null ? '' : `${reason.where} of `}${reason.file}, and what was not read is not shared. ${sentenceOf(reason.reason)}`;
  }
}

const NOT_REVIEWED = {
  never: 'Nobody has reviewed this sheet.',
  'drawn-now': 'There was no such sheet; it was drawn just now, so nobody can have seen it.',
  redrawn:
    'Drawn again, the sheet came out otherwise than the one that stood; as it is now, nobody has seen it.',
  changed: 'The sheet is no longer the one that was reviewed; as it is now, nobody has seen it.',
} as const;

function basisSentence({
  audience,
  kind,
  known,
  given,
  wanted,
}: Extract<GateReason, { code: 'no-basis' }>): string {
  if (wanted === 'treatment') {
    return audience === 'referrer'
      ? 'The basis "treatment" was named, but practice.yaml asks for consent. Where local law lets a referral rest on treatment, write referralBasis: treatment there.'
      : `The basis "treatment" was named, but only a referrer's sheet may rest on it; "${audience}" needs the patient's consent for ${kind}.`;
  }
  const needed = known
    ? `The sheet for "${audience}" needs the patient's consent for ${kind}`
    : `No rule is known for the audience "${audience}", so the strictest holds: the patient's consent for ${kind}`;
  const found =
    given === false ? ', and the patient has said no.' : ', and nobody has recorded what the patient says.';
  const todo =
    given === false
      ? `Do not share it. Only should the patient decide otherwise, record consent: {${kind}: true} in the sidecar of a later visit.`
      : `Ask the patient; then write consent: {${kind}: true} in visit.yaml and take the visit in again.`;
  const law =
    audience === 'referrer' && given === null
      ? ' Where local law lets a referral rest on treatment, referralBasis: treatment in practice.yaml says so.'
      : '';
  return `${needed}${found} ${todo}${law}`;
}

const placeOf = ({ file, where }: AuditHit): string => (where === '' ? file : `${file} (${where})`);
