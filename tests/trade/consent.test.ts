import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { consentFor, consentOver } from '../../src/trade/consent.js';

/** A visit that says something of teaching; null: nothing. */
const visit = (date: string | null, teaching: boolean | null) => ({
  visit: { date, state: null },
  consent: { referral: null, teaching, publication: null },
});

const teaching = (...visits: ReturnType<typeof visit>[]) => consentOver(visits).teaching;

describe('consent over visits', () => {
  it('is null while nobody has said anything', () => {
    expect(teaching()).toEqual({ given: null, withdrawn: false });
    expect(teaching(visit('2026-01-01', null))).toEqual({ given: null, withdrawn: false });
  });

  it('takes the latest statement by the date of the visit, not by the order of filing', () => {
    const late = visit('2026-03-01', false);
    const early = visit('2026-01-01', true);
    expect(teaching(late, early)).toEqual({ given: false, withdrawn: true });
    expect(teaching(early, late)).toEqual({ given: false, withdrawn: true });
  });

  it('takes the order of filing on one day', () => {
    const day = '2026-01-01';
    expect(teaching(visit(day, true), visit(day, false)).given).toBe(false);
    expect(teaching(visit(day, false), visit(day, true)).given).toBe(true);
  });

  it('is not withdrawn by a no that nobody had said yes before', () => {
    expect(teaching(visit('2026-01-01', false))).toEqual({ given: false, withdrawn: false });
    expect(teaching(visit('2026-01-01', false), visit('2026-02-01', false)).withdrawn).toBe(false);
  });

  it('can be given again after a withdrawal', () => {
    const said = [visit('2026-01-01', true), visit('2026-02-01', false), visit('2026-03-01', true)];
    expect(teaching(...said)).toEqual({ given: true, withdrawn: false });
  });

  it('is not changed by a visit that says nothing', () => {
    expect(teaching(visit('2026-01-01', true), visit('2026-02-01', null)).given).toBe(true);
  });

  it('never reads permission into a visit without a date', () => {
    expect(teaching(visit('2026-01-01', false), visit(null, true)).given).toBe(false);
    expect(teaching(visit(null, false), visit('2026-01-01', true))).toEqual({
      given: false,
      withdrawn: true,
    });
  });

  it('keeps the kinds apart', () => {
    const both = { visit: { date: '2026-01-01', state: null } };
    const consent = consentOver([
      { ...both, consent: { referral: true, teaching: false, publication: null } },
    ]);
    expect([consent.referral.given, consent.teaching.given, consent.publication.given]).toEqual([
      true,
      false,
      null,
    ]);
  });

  it('is given only when no statement of no could be later', () => {
    const one = fc.record({
      date: fc.option(fc.constantFrom('2026-01-01', '2026-02-01', '2026-03-01'), { nil: null }),
      says: fc.option(fc.boolean(), { nil: null }),
    });
    fc.assert(
      fc.property(fc.array(one, { maxLength: 6 }), (said) => {
        const { given, withdrawn } = teaching(...said.map(({ date, says }) => visit(date, says)));
        const noes = said.filter(({ says }) => says === false);
        const yeses = said.filter(({ says }) => says === true);
        if (noes.some(({ date }) => date === null)) expect(given).toBe(false);
        if (given === true) {
          const newest = yeses
            .map(({ date }) => date ?? '')
            .sort()
            .at(-1) as string;
          expect(noes.every(({ date }) => date !== null && date <= newest)).toBe(true);
        }
        expect(withdrawn).toBe(given === false && yeses.length > 0);
        expect(given === null).toBe(noes.length + yeses.length === 0);
      }),
    );
  });
});

describe('the consent an audience needs', () => {
  it('is its own for those that a rule is known for', () => {
    expect(consentFor('referrer')).toEqual({ kind: 'referral', known: true });
    expect(consentFor('teaching')).toEqual({ kind: 'teaching', known: true });
    expect(consentFor('publication')).toEqual({ kind: 'publication', known: true });
  });

  it('is the widest for any other, also for words that objects know', () => {
    for (const audience of ['study-club', 'constructor', 'to-string', ''])
      expect(consentFor(audience)).toEqual({ kind: 'publication', known: false });
  });
});
