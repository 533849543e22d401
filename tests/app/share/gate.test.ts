import { describe, expect, it } from 'vitest';
import { readInitials } from '../../../src/app/review/initials.js';
import { looksOf, openLooks } from '../../../src/app/review/looks.js';
import { basisFor } from '../../../src/app/share/basis.js';
import { type GateFacts, reasonsAgainst } from '../../../src/app/share/gate.js';
import { type GateReason, gateSentence } from '../../../src/app/share/gate-reason.js';
import { readRecipient } from '../../../src/app/share/share-wish.js';
import { haveOlder, versionOf } from '../../../src/app/share/versions.js';
import type { ShareRecord } from '../../../src/practice/index.js';
import type { PictureRecord } from '../../../src/trade/case-record.js';
import { consentOver } from '../../../src/trade/consent.js';

const consent = (given: Partial<Record<'referral' | 'teaching' | 'publication', boolean>>) =>
  consentOver([
    {
      visit: { date: '2026-02-11', state: null },
      consent: { referral: null, teaching: null, publication: null, ...given },
    },
  ]);

const picture = (over: Partial<PictureRecord>): PictureRecord =>
  ({ number: 1, view: 'microscope', look: [], ...over }) as PictureRecord;

const facts = (over: Partial<GateFacts> = {}, pictures: PictureRecord[] = [picture({})]): GateFacts => ({
  case: 'K7QD2M',
  template: 'referrer',
  audience: 'referrer',
  settings: { referralBasis: 'consent' },
  consent: consent({ referral: true }),
  wantedBasis: null,
  withdrawal: null,
  patient: { chart: 'A-1', names: [] },
  held: [],
  unsearched: [],
  pictures,
  drawn: {
    path: 'cases/K7QD2M/sheets/referrer.pdf',
    sha256: 'a',
    stood: 'a',
    shown: pictures.map(({ number }) => ({ figure: number, number })),
    looks: [],
    reviews: [{ at: '', case: 'K7QD2M', template: 'referrer', sha256: 'a', by: 'AB', looks: [] }],
    audit: { clean: true, hits: [], possible: [], unread: [] },
  },
  ...over,
});

const codes = (reasons: readonly GateReason[]): string[] => reasons.map(({ code }) => code);

describe('the gate', () => {
  it('lets a reviewed, audited sheet with its basis through', () => {
    expect(reasonsAgainst(facts())).toEqual([]);
  });

  it('refuses a face that nobody allowed for this audience, should one ever get onto a sheet', () => {
    expect(codes(reasonsAgainst(facts({}, [picture({ view: 'extraoral' })])))).toEqual(['face']);
    expect(codes(reasonsAgainst(facts({}, [picture({ limitedTo: ['teaching'] })])))).toEqual(['face']);
    expect(codes(reasonsAgainst(facts({}, [picture({ limitedTo: ['referrer'] })])))).toEqual([]);
    const lost = facts({ pictures: [] });
    expect(codes(reasonsAgainst(lost))).toEqual(['face']);
  });

  it('refuses pictures that were never searched', () => {
    expect(codes(reasonsAgainst(facts({ unsearched: ['a.jpg of the visit "x"'] })))).toEqual([
      'not-searched',
    ]);
  });

  it('needs a name or a chart number to search for', () => {
    expect(codes(reasonsAgainst(facts({ patient: { chart: null, names: [] } })))).toEqual([
      'nothing-to-search',
    ]);
    expect(reasonsAgainst(facts({ patient: { chart: null, names: ['Rowan'] } }))).toEqual([]);
  });

  it('says that nothing may be shown when no sheet could be drawn', () => {
    expect(codes(reasonsAgainst(facts({ drawn: null })))).toEqual(['nothing-kept']);
  });
});

describe('the basis', () => {
  const treatment = { referralBasis: 'treatment' as const };
  const strict = { referralBasis: 'consent' as const };

  it('is the consent for the audience', () => {
    expect(basisFor('teaching', consent({ teaching: true }), strict)).toEqual({
      covers: true,
      basis: 'consent',
    });
    expect(basisFor('teaching', consent({ referral: true, publication: true }), strict).covers).toBe(false);
  });

  it('is treatment for a referrer alone, and only where practice.yaml says so', () => {
    expect(basisFor('referrer', consent({}), treatment)).toEqual({ covers: true, basis: 'treatment' });
    expect(basisFor('referrer', consent({}), strict).covers).toBe(false);
    expect(basisFor('teaching', consent({}), treatment).covers).toBe(false);
    expect(basisFor('teaching', consent({ teaching: true }), treatment, 'treatment').covers).toBe(false);
  });

  it('is the strictest for an audience that no rule is known for, and the sentence says so', () => {
    const refused = basisFor('study-club', consent({ referral: true, teaching: true }), treatment);
    if (refused.covers) throw new Error('covered');
    const { covers: _, ...reason } = refused;
    expect(gateSentence({ code: 'no-basis', ...reason })).toContain('the strictest holds');
    expect(basisFor('study-club', consent({ publication: true }), strict).covers).toBe(true);
  });

  it('asks nobody to share against a no', () => {
    const refused = basisFor('teaching', consent({ teaching: false }), strict);
    if (refused.covers) throw new Error('covered');
    const { covers: _, ...reason } = refused;
    expect(gateSentence({ code: 'no-basis', ...reason })).toMatch(/has said no\. Do not share it/);
  });
});

describe('looks', () => {
  const record = {
    pictures: [picture({ number: 3, look: ['At [1, 2, 3, 4] ...'] }), picture({ number: 5 })],
  };
  const looks = looksOf(record, [{ figure: 2, number: 3 }]);
  const seen = looks.map(({ picture: number, sentence }) => ({ picture: number, sentence }));
  const review = { at: '', case: 'K', template: 'referrer', sha256: 'a', by: 'AB', looks: seen };

  it('are those of the figures of the sheet; of every picture where the figures are not known', () => {
    expect(looks).toEqual([{ figure: 2, picture: 3, sentence: 'At [1, 2, 3, 4] ...' }]);
    expect(looksOf(record, [{ figure: 1, number: 5 }])).toEqual([]);
    expect(looksOf(record, null)).toEqual([{ figure: null, picture: 3, sentence: 'At [1, 2, 3, 4] ...' }]);
  });

  it('are settled by a review of these very bytes that showed them, by no other', () => {
    expect(openLooks(looks, [review], 'a')).toEqual([]);
    expect(openLooks(looks, [review], 'b')).toEqual(looks);
    expect(openLooks(looks, [{ ...review, looks: [] }], 'a')).toEqual(looks);
  });
});

describe('versions', () => {
  const one = (to: string, version: number, sha256: string, template = 'referrer'): ShareRecord =>
    ({
      case: 'K',
      template,
      to,
      version,
      sha256,
      replaces: version > 1 ? version - 1 : null,
      files: [],
    }) as never;
  const next = (shared: ShareRecord[], sha256: string) =>
    versionOf(shared, { case: 'K', template: 'referrer', sha256 }, () => []);

  it('grow when the bytes change, also back to earlier ones, and with each template by itself', () => {
    expect(next([], 'a')).toEqual({ version: 1, replaces: null });
    expect(next([one('X', 1, 'a')], 'a')).toEqual({ version: 1, replaces: null });
    expect(next([one('X', 1, 'a')], 'b')).toEqual({ version: 2, replaces: 1 });
    expect(next([one('X', 1, 'a'), one('X', 2, 'b')], 'a')).toEqual({ version: 3, replaces: 2 });
    expect(next([one('X', 1, 'a', 'teaching')], 'b')).toEqual({ version: 1, replaces: null });
  });

  it('grow when a picture has changed though the sheet has not', () => {
    const shared = { ...one('X', 1, 'a'), files: [{ name: 'S-01.jpg', sha256: 'p', bytes: 1 }] };
    const sheet = { case: 'K', template: 'referrer', sha256: 'a' };
    expect(versionOf([shared], sheet, () => [{ name: 'S-01.jpg', sha256: 'q' }]).version).toBe(2);
    expect(versionOf([shared], sheet, () => [{ name: 'S-02.jpg', sha256: 'q' }]).version).toBe(1);
  });

  it('name those who have only an older one', () => {
    const shared = [one('X', 1, 'a'), one('Y', 1, 'a'), one('Y', 2, 'b'), one('Z', 1, 'a')];
    const older = haveOlder(shared, { case: 'K', template: 'referrer' }, { version: 2, to: ' z ' });
    expect(older.map(({ to }) => to)).toEqual(['X']);
  });
});

describe('what a person types', () => {
  it.each(['AB', 'a.b.', 'A. B.', 'M-L K', 'ÅØ', 'БГ'])('takes %s as initials', (text) => {
    expect(readInitials(text)).toBe(text);
  });

  it.each(['', ' ', 'A', '42', 'A1', 'ABCDEFG', 'AB\n', 'A B; rm', '--'])(
    'refuses %j as initials',
    (text) => {
      expect(readInitials(text.replace('\n', '\u0000'))).toBe(null);
    },
  );

  it('tidies a recipient, and refuses one that names nobody', () => {
    expect(readRecipient('  Dr  Example,\tNorth Street ')).toBe('Dr Example, North Street');
    for (const text of ['', '   ', 'x'.repeat(201), 'a\u0007b']) expect(readRecipient(text)).toBe(null);
  });
});
