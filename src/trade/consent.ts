import type { VisitDocument } from './visit-document.js';

export type ConsentKind = 'referral' | 'teaching' | 'publication';

/** What a patient's consent of one kind comes to over all visits of a case. */
export interface ConsentState {
  /** The statement that counts; null when nobody recorded one. */
  given: boolean | null;
  /** A later statement says no where an earlier one said yes. */
  withdrawn: boolean;
}

export type ConsentOverVisits = Record<ConsentKind, ConsentState>;

type Stated = Pick<VisitDocument, 'visit' | 'consent'>;

/**
 * For each kind the latest statement counts: by the visit's date, then by the order of filing. A visit without a date
 * cannot be known to come after another: there a no counts as the latest and a yes as the earliest, so that permission
 * is never read into it. A visit that says nothing changes nothing.
 * @param visits in the order they were filed
 */
export function consentOver(visits: readonly Stated[]): ConsentOverVisits {
  return {
    referral: stateOf(visits, 'referral'),
    teaching: stateOf(visits, 'teaching'),
    publication: stateOf(visits, 'publication'),
  };
}

function stateOf(visits: readonly Stated[], kind: ConsentKind): ConsentState {
  const statements = visits
    .flatMap(({ visit: { date }, consent }) => {
      const says = consent[kind];
      return says === null ? [] : [{ says, key: date ?? (says ? '' : '9999-99-99') }];
    })
    .toSorted((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
  const given = statements.at(-1)?.says ?? null;
  return { given, withdrawn: given === false && statements.some(({ says }) => says) };
}

const BY_AUDIENCE: Readonly<Record<string, ConsentKind>> = {
  referrer: 'referral',
  teaching: 'teaching',
  publication: 'publication',
};

/**
 * The consent that an audience needs. An audience of the practice's own, which no rule is known for, needs the widest:
 * whoever may see it is not known, and a publication may be seen by anyone.
 */
export function consentFor(audience: string): { kind: ConsentKind; known: boolean } {
  const kind = Object.hasOwn(BY_AUDIENCE, audience) ? BY_AUDIENCE[audience] : undefined;
  return { kind: kind ?? 'publication', known: kind !== undefined };
}
