import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CaseRecord, CourseRecord, Finding, PictureRecord } from '../../../src/trade/case-record.js';
import { findingsOf } from '../../../src/trade/findings/index.js';
import { ALL_TEETH } from '../../../src/trade/teeth.js';
import { lengthBand } from '../../../src/trade/tooth-lengths.js';
import { canal } from '../canal-entries.js';

const HANDOFF: CourseRecord['handoff'] = {
  restorer: 'referring dentist',
  caries: null,
  margins: null,
  barrier: 'bonded',
  temporary: 'glass ionomer',
  chamber: null,
  advise: 'cuspal coverage',
  by: '4 weeks',
  next: null,
  due: null,
  mishaps: [],
  recall: null,
};

const NO_HANDOFF = Object.fromEntries(
  Object.keys(HANDOFF).map((key) => [key, key === 'mishaps' ? [] : null]),
) as unknown as CourseRecord['handoff'];

const picture = (number: number, more: Partial<PictureRecord>): PictureRecord => ({
  number,
  file: `images/0${number}.png`,
  course: 1,
  visit: 1,
  order: number,
  stage: 'orifices',
  stageWord: null,
  band: 'during',
  view: 'microscope',
  plane: null,
  angle: null,
  teeth: [{ fdi: 46 }],
  canals: [],
  flipped: false,
  orientation: null,
  magnification: null,
  caption: null,
  widthPx: 100,
  heightPx: 100,
  covered: 0,
  look: [],
  scale: null,
  processing: [],
  ...more,
});

const COURSE: CourseRecord = {
  course: 1,
  kind: 'root-canal-treatment',
  diagnosis: { pulp: 'pulp necrosis', apex: 'asymptomatic apical periodontitis' },
  consent: { referral: true, teaching: false, publication: false },
  canals: [canal('MB'), canal('MM', { joins: { canal: 'MB', at: 4 } }), canal('ML'), canal('D')],
  handoff: HANDOFF,
  visits: [{ visit: 1, day: 0, year: 2026, state: 'finished', revision: 1 }],
};

const PICTURES = [
  picture(1, { stage: 'pre-op', band: 'before', view: 'periapical' }),
  picture(2, { canals: ['MB', 'MM', 'ML', 'D'], orientation: { mesial: 'right', buccal: 'down' } }),
  picture(3, { stage: 'post-op', band: 'after', view: 'periapical', teeth: [{ fdi: 46 }, { fdi: 47 }] }),
];

const record = (course: Partial<CourseRecord> = {}, pictures: PictureRecord[] = PICTURES): CaseRecord => ({
  schema: 1,
  case: 'K7QD2M',
  tooth: { fdi: 46 },
  courses: [{ ...COURSE, ...course }],
  pictures,
});

const find = (of: CaseRecord, patientKnown = true, answered: string[] = []): Finding[] =>
  findingsOf(of, { patientKnown, answered });
const codes = (of: CaseRecord, ...rest: [boolean?, string[]?]): string[] =>
  find(of, ...rest).map(({ code }) => code);

describe('findings', () => {
  it('say nothing about a complete record', () => {
    expect(find(record())).toEqual([]);
  });

  it.each<[string, Finding['level'], CaseRecord, boolean?]>([
    ['patient-missing', 'missing', record(), false],
    ['consent-missing', 'note', record({ consent: { referral: null, teaching: null, publication: null } })],
    ['state-missing', 'missing', record({ visits: [{ ...COURSE.visits[0]!, state: null }] })],
    ['handoff-missing', 'missing', record({ handoff: NO_HANDOFF })],
    ['handoff-missing', 'missing', record({ handoff: { ...HANDOFF, advise: null } })],
    ['next-step-missing', 'missing', record({ visits: [{ ...COURSE.visits[0]!, state: 'interim' }] })],
    ['shot-missing', 'missing', record({}, PICTURES.slice(1))],
    ['shot-missing', 'missing', record({}, PICTURES.slice(0, 2))],
    [
      'canal-picture-missing',
      'missing',
      record(
        {},
        PICTURES.map((one) => ({ ...one, canals: one.canals.slice(1) })),
      ),
    ],
    ['label-unusual', 'check', withCanal('DB2')],
    ['canal-twice', 'contradiction', withCanal('mb')],
    ['join-unknown', 'contradiction', withCanal('DL', { joins: { canal: 'DB', at: 2 } })],
    ['join-loop', 'contradiction', withCanal('DL', { joins: { canal: 'DL', at: 2 } })],
    ['canal-missing-length', 'missing', withCanal('DL', { length: null })],
    ['length-unlikely', 'check', withCanal('DL', { length: 60 })],
    ['length-unlikely', 'check', withCanal('DL', { length: 2 })],
    ['filled-not-dry', 'contradiction', withCanal('DL', { dry: false })],
    ['picture-canal-unknown', 'contradiction', record({}, [...PICTURES, picture(4, { canals: ['DL'] })])],
    ['tooth-mismatch', 'contradiction', record({}, [...PICTURES, picture(4, { teeth: [{ fdi: 36 }] })])],
    [
      'object-tooth-mismatch',
      'contradiction',
      record({}, [...PICTURES, picture(4, { object: { teeth: [45, 47], side: 'right' } })]),
    ],
    [
      'object-side-mismatch',
      'contradiction',
      record({}, [...PICTURES, picture(4, { object: { teeth: [46], side: 'left' } })]),
    ],
    [
      'orientation-mirrored',
      'check',
      record({}, [...PICTURES, picture(4, { orientation: { mesial: 'left', buccal: 'down' } })]),
    ],
    ['extraoral-private', 'note', record({}, [...PICTURES, picture(4, { view: 'extraoral' })])],
    ['diagnosis-unlisted', 'note', record({ diagnosis: { pulp: 'irreversible pulpitis', apex: null } })],
  ])('raise %s (%s) and nothing else; an answer settles it', (code, level, of, patientKnown = true) => {
    expect(find(of, patientKnown)).toMatchObject([{ code, level }]);
    expect(codes(of, patientKnown, [code])).toEqual([]);
  });

  function withCanal(label: string, more: Parameters<typeof canal>[1] = {}): CaseRecord {
    return record({ canals: [...COURSE.canals, canal(label, more)] }, [
      ...PICTURES,
      picture(4, { canals: [label] }),
    ]);
  }

  it('take a DICOM object as agreeing when one of its teeth or its side is that of the picture', () => {
    const agreeing = [
      { teeth: [45, 46, 47], side: 'right' },
      { teeth: [], side: 'both' },
      { teeth: [], side: null },
    ] as const;
    for (const object of agreeing)
      expect(
        codes(record({}, [...PICTURES, picture(4, { object: { ...object, teeth: [...object.teeth] } })])),
      ).toEqual([]);
    // two teeth on both sides of the midline have no side of their own
    const both = picture(4, { teeth: [{ fdi: 46 }, { fdi: 36 }], object: { teeth: [], side: 'left' } });
    expect(codes(record({}, [...PICTURES, both]))).toEqual([]);
  });

  it('call a palatal canal in a lower tooth a contradiction', () => {
    expect(find(withCanal('P'))).toMatchObject([{ code: 'label-wrong', level: 'contradiction' }]);
    expect(find(withCanal('P'))[0]?.sentence).toContain('Write L');
  });

  it('see two canals that join each other at different distances, and longer rings', () => {
    const joining = (a: number, b: number): CaseRecord =>
      record({
        canals: [
          canal('MB', { joins: { canal: 'ML', at: a } }),
          canal('ML', { joins: { canal: 'MB', at: b } }),
          canal('MM'),
          canal('D'),
        ],
      });
    expect(codes(joining(4, 2))).toEqual(['join-loop']);
    expect(codes(joining(4, 4))).toEqual([]);
    const ring = ['MB', 'MM', 'ML'].map((label, index, all) =>
      canal(label, { joins: { canal: all[(index + 1) % 3]!, at: 3 } }),
    );
    expect(find(record({ canals: [...ring, canal('D')] }))[0]?.sentence).toContain(
      'MB, MM and ML join each other in a ring',
    );
  });

  it('ask for no film after a consultation and for no length film at all', () => {
    const consultation = record(
      { canals: [], visits: [{ ...COURSE.visits[0]!, state: 'consultation' }], handoff: NO_HANDOFF },
      [PICTURES[0]!],
    );
    expect(find(consultation)).toEqual([]);
  });

  it('look at the newest course only', () => {
    const old = { ...COURSE, canals: [canal('P')] };
    expect(codes({ ...record(), courses: [{ ...COURSE, course: 2 }, old] })).not.toContain('label-wrong');
  });

  it('put contradictions first and keep quiet about labels of a supernumerary tooth', () => {
    const mixed = record({
      consent: { referral: null, teaching: null, publication: null },
      canals: [canal('P', { length: 60 })],
    });
    const levels = find(mixed).map(({ level }) => level);
    const rank = ['contradiction', 'missing', 'check', 'note'];
    expect(levels).toEqual([...levels].sort((a, b) => rank.indexOf(a) - rank.indexOf(b)));
    const extra = { ...mixed, tooth: { supernumerary: 'near 21' } };
    expect(codes(extra).filter((code) => code.startsWith('label') || code.startsWith('length'))).toEqual([]);
  });

  it('never ask for a new exposure, and each says what to do and where the rule is from', () => {
    const bare = record(
      {
        canals: [canal('P', { dry: false, length: null })],
        handoff: NO_HANDOFF,
        consent: { referral: null, teaching: null, publication: null },
      },
      [picture(1, { teeth: [{ fdi: 36 }], canals: ['XX'] })],
    );
    const found = find(bare, false);
    expect(found.length).toBeGreaterThan(7);
    for (const { sentence, source } of found) {
      expect(sentence).toMatch(/^[A-Z].+[.?:] .+[.?]$/);
      expect(sentence).not.toMatch(/\b(take|expose|retake|make)\b.*\b(radiograph|film|exposure|x-ray)\b/i);
      expect(source).not.toBe('');
    }
  });

  it('never throw, whatever the labels and the tooth', () => {
    const label = fc.oneof(fc.constantFrom('MB', 'mb', 'MB1', 'P', 'L', 'main'), fc.string({ maxLength: 8 }));
    const entry = fc.record({
      name: label,
      joins: fc.option(label),
      length: fc.option(fc.double({ min: 0, max: 90, noNaN: true })),
    });
    fc.assert(
      fc.property(fc.constantFrom(...ALL_TEETH), fc.array(entry, { maxLength: 6 }), (fdi, entries) => {
        const canals = entries.map(({ name, joins, length }) =>
          canal(name, { length, joins: joins === null ? null : { canal: joins, at: null } }),
        );
        expect(Array.isArray(find({ ...record({ canals }), tooth: { fdi } }))).toBe(true);
      }),
    );
  });
});

describe('the band of likely lengths', () => {
  it.each(ALL_TEETH.filter((fdi) => fdi < 50))('of %i holds its average with wide margins', (fdi) => {
    const band = lengthBand(fdi)!;
    expect(band.leastMm).toBeLessThan(band.averageMm[0] - 5);
    expect(band.mostMm).toBeGreaterThan(band.averageMm[1] + 5);
  });

  it('keeps the published averages (classic dental-anatomy table: crown plus root)', () => {
    expect(lengthBand(11)?.averageMm).toEqual([10.5 + 13, 10.5 + 13]);
    expect(lengthBand(23)?.averageMm).toEqual([10 + 17, 10 + 17]);
    expect(lengthBand(16)?.averageMm).toEqual([7.5 + 12, 7.5 + 13]);
    expect(lengthBand(42)?.averageMm).toEqual([9.5 + 14, 9.5 + 14]);
  });

  it('lets a published upper canine of 38 mm pass, and asks nothing of primary teeth', () => {
    expect(lengthBand(13)?.mostMm).toBeGreaterThanOrEqual(38);
    expect(lengthBand(55)).toBeNull();
  });
});
