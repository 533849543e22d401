import type { Settings } from '../../core/settings.js';
import { type ConsentKind, type ConsentOverVisits, consentFor } from '../../trade/consent.js';

export type Basis = 'consent' | 'treatment';

export type BasisAnswer =
  | { covers: true; basis: Basis }
  | {
      covers: false;
      audience: string;
      kind: ConsentKind;
      /** False when no rule is known for the audience, so that the strictest was asked for. */
      known: boolean;
      given: boolean | null;
      wanted: Basis | null;
    };

/**
 * On what a sheet may go to an audience: the patient's consent for it; or, for a referrer alone and where practice.yaml
 * allows it, the treatment that both share.
 * @param wanted the basis a person named; null takes whichever holds
 */
export function basisFor(
  audience: string,
  consent: ConsentOverVisits,
  { referralBasis }: Pick<Settings, 'referralBasis'>,
  wanted: Basis | null = null,
): BasisAnswer {
  const { kind, known } = consentFor(audience);
  const { given } = consent[kind];
  if (given === true && wanted !== 'treatment') return { covers: true, basis: 'consent' };
  const mayRestOnTreatment = audience === 'referrer' && referralBasis === 'treatment';
  if (mayRestOnTreatment && wanted !== 'consent') return { covers: true, basis: 'treatment' };
  return { covers: false, audience, kind, known, given, wanted };
}
