import { describe, expect, it } from 'vitest';
import { answersOf, isSpan } from '../../../src/stages/sheet/words/answer-sentences.js';
import { canal, course } from './given/records.js';

const textOf = (more: Parameters<typeof course>[0] = {}) =>
  answersOf(course(more))
    .map(({ label, text }) => `${label} ${text}`)
    .join(' ')
    .replaceAll('\u00a0', ' ');

const oneVisit = (state: 'interim' | 'emergency' | 'interrupted' | 'consultation' | null) => [
  { visit: 1, day: 0, year: 2026, state, revision: 1 },
];

const empty = {
  restorer: null,
  caries: null,
  margins: null,
  barrier: null,
  temporary: null,
  chamber: null,
  advise: null,
  by: null,
  next: null,
  due: null,
  mishaps: [],
  recall: null,
};

describe('the answer to the restoring dentist', () => {
  it('says what was finished, what may be done now and by when, what lies in the chamber, mishaps and recall', () => {
    expect(textOf()).toBe(
      'Finished. Root canal treatment was completed in two visits for pulp necrosis with asymptomatic apical ' +
        'periodontitis. Four canals (MB, MM, ML and D), all filled. Now: cuspal coverage, within 4 weeks of visit 2, by ' +
        'the referring dentist. In the chamber: bonded (orifice barrier); glass ionomer (temporary filling). ' +
        'Mishaps: none recorded. Recall: we recall at 12 months.',
    );
  });

  it.each(['no', 'none', 'not yet', 'Not filled'])('does not take "%s" for a filling', (filled) => {
    expect(textOf({ canals: [canal('MB'), canal('D', { filled })] })).toContain('no filling recorded for D.');
    expect(textOf({ canals: [canal('MB', { filled: 'Nordic gutta-percha' })] })).toContain('(MB), filled.');
  });

  it.each(['consultation', null] as const)(
    'of a recall (%s) after treatment still says that it was finished',
    (state) => {
      const visits = [
        { visit: 1, day: 0, year: 2026, state: 'finished' as const, revision: 1 },
        { visit: 2, day: 365, year: 2027, state, revision: 1 },
      ];
      expect(textOf({ visits })).toMatch(/^Finished\. .*Now: cuspal coverage/);
    },
  );

  it('sums no filling up while treatment goes on: it may be a medicament', () => {
    const canals = [
      canal('MB', { filled: 'calcium hydroxide' }),
      canal('D', { filled: 'calcium hydroxide' }),
    ];
    const text = textOf({ visits: oneVisit('interim'), canals });
    expect(text).not.toContain('all filled');
    expect(text).toContain('the table says what each holds');
  });

  it('says of what nobody recorded that it is not recorded, and fills nothing in', () => {
    const text = textOf({ handoff: empty, diagnosis: { pulp: null, apex: null }, kind: null });
    expect(text).toContain('diagnosis not recorded');
    expect(text).toContain('kind not recorded');
    expect(text).toContain('Now: advice on the restoration not recorded, time limit not recorded.');
    expect(text).toContain('In the chamber: not recorded.');
    expect(text).toContain('Recall: not recorded');
  });

  it.each([
    ['interim', 'Not finished.'],
    ['emergency', 'Emergency visit, not finished.'],
    ['interrupted', 'Interrupted, not finished.'],
  ] as const)(
    'of an %s visit says that it is not finished, and the next step and when it is due',
    (state, lead) => {
      const handoff = {
        ...empty,
        next: 'filling of all canals',
        due: '2 weeks',
        chamber: 'calcium hydroxide',
      };
      const text = textOf({ visits: oneVisit(state), handoff });
      expect(text.startsWith(lead)).toBe(true);
      expect(text).toContain('Next step: filling of all canals; due within 2 weeks of the visit.');
      expect(text).toContain('In the chamber: calcium hydroxide.');
      expect(text).not.toContain('completed');
    },
  );

  it('of a consultation says that there was no treatment', () => {
    const text = textOf({ visits: oneVisit('consultation'), canals: [], handoff: empty });
    expect(text.startsWith('Consultation, no treatment.')).toBe(true);
    expect(text).not.toContain('filled');
  });

  it('does not guess whether treatment is finished', () => {
    expect(textOf({ visits: oneVisit(null) })).toContain('Whether treatment is finished: not recorded.');
  });

  it('leaves a time that is no span as it was written', () => {
    const handoff = { ...empty, next: 'filling', due: 'as soon as the swelling is gone' };
    expect(textOf({ visits: oneVisit('emergency'), handoff })).toContain(
      'Next step: filling; due: as soon as the swelling is gone.',
    );
  });

  it.each([
    ['4 weeks', true],
    ['two to three months', true],
    ['10-14 days', true],
    ['a year', true],
    ['next week', false],
    ['every 6 months', false],
    ['the end of the month', false],
  ])('takes "%s" as a time that counts from the visit: %s', (text, span) => {
    expect(isSpan(text)).toBe(span);
  });

  it('names canals without a recorded filling', () => {
    expect(textOf({ canals: [canal('MB'), canal('ML', { filled: null })] })).toContain(
      'no filling recorded for ML',
    );
  });

  it('names every mishap', () => {
    const handoff = { ...empty, mishaps: ['instrument fragment in ML.', 'strip perforation, repaired'] };
    expect(textOf({ handoff })).toContain('Mishaps: instrument fragment in ML; strip perforation, repaired.');
  });
});
