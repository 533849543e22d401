import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildTerms, findIdentifiers } from '../../src/core/terms.js';

const PATIENT = {
  chart: 'A-20417',
  names: ['Rowan Testcase', 'Müller-Beispiel', 'Ελένη'],
  born: '1984-06-02',
};
const TERMS = buildTerms(PATIENT, '2026-02-11');
const kinds = (text: string) => findIdentifiers(text, TERMS);

describe('names in text', () => {
  it.each([
    'Rowan at the first visit',
    'ROWAN_TESTCASE',
    "Testcase's molar",
    'testcases tooth',
    'RowanTestcase',
    'Tèstcàse',
    'Mueller, lower molar',
    'MULLER',
    'the Beispiel tooth',
    'ΕΛΕΝΗ σήμερα',
    'Ｒｏｗａｎ',
    'Ro\u200Bwan',
  ])('are found in "%s"', (text) => expect(kinds(text)).toContain('name'));

  it('are not found inside other words', () => {
    expect(kinds('Rowanberry red, untestcased')).toEqual([]);
  });

  it('count even when they are ordinary words of the trade, part by part', () => {
    const crown = buildTerms({ chart: null, names: ['Root Crown'], born: null }, null);
    expect(findIdentifiers('crown removed', crown)).toEqual(['name']);
  });

  it('of two letters count as a whole name only', () => {
    const short = buildTerms({ chart: null, names: ['Li Wu'], born: null }, null);
    expect(findIdentifiers('ML and Li orifice', short)).toEqual([]);
    expect(findIdentifiers('wu li', short)).toEqual(['name']);
  });

  it('are found wherever a part of three letters or more stands as a word', () => {
    const part = fc
      .stringMatching(/^[A-Za-zÀ-ÖØ-öø-ÿ]{3,12}$/)
      .filter(
        (word) =>
          !/^(the|and|von|van|der|den|del|des|dos|das|dei|ter|ten|tot|zum|zur|und|ibn|bin|mrs|miss|herr|frau|prof|bint|dal|della|degli)$/i.test(
            word,
          ),
      );
    fc.assert(
      fc.property(part, fc.constantFrom('%', 'the % case', '(%)', '%, access', 'x_%'), (word, frame) => {
        const terms = buildTerms({ chart: null, names: [word], born: null }, null);
        return findIdentifiers(frame.replace('%', word.toUpperCase()), terms).includes('name');
      }),
    );
  });
});

describe('the chart number in text', () => {
  it.each(['A-20417', 'a20417', 'chart A 20417', 'see 20417', 'A_204-17'])('is found in "%s"', (text) =>
    expect(kinds(text)).toContain('chart'),
  );

  it('of less than four signs is found only after a word such as chart', () => {
    const terms = buildTerms({ chart: '12', names: [], born: null }, null);
    expect(findIdentifiers('12 mm, x12', terms)).toEqual([]);
    expect(findIdentifiers('chart no. 12', terms)).toEqual(['chart']);
  });
});

describe('dates in text', () => {
  // ISO 8601 calendar dates, extended and basic form
  it.each(['2026-02-11', '20260211', '2026-02-11T09:41'])('finds %s, ISO 8601', (text) =>
    expect(kinds(text)).toEqual(['date']),
  );

  it.each([
    '11.02.2026',
    '11. 2. 2026',
    '11/2/26',
    '02/11/2026',
    '11-02-2026',
    '2026/02/11',
    '2026:02:11',
    'Feb 11 2026',
    '11th of February, 2026',
    'February 2026',
    '11 février 2026',
    '11. Februar 2026',
    '11 de febrero de 2026',
    '11 Φεβρουαρίου 2026',
    '11 февраля 2026',
    '3 March 2019',
    '11 Feb',
    'IMG_20260211_0412',
    '260211',
    'on 11.02.',
  ])('finds "%s"', (text) => expect(kinds(text)).toEqual(['date']));

  it.each(['1984-06-02', '2 June 1984', '02.06.84', '19840602', '6/2/1984', 'June 2'])(
    'knows "%s" as the birth date',
    (text) => expect(kinds(text)).toEqual(['born']),
  );

  it('lets a year alone and a span stand', () => {
    expect(kinds('filled in 2019, recall after 12 months')).toEqual([]);
  });

  it('finds any day of two centuries in any common form', () => {
    const form = fc.constantFrom(
      (y: string, m: string, d: string) => `${y}-${m}-${d}`,
      (y: string, m: string, d: string) => `${d}.${m}.${y}`,
      (y: string, m: string, d: string) => `${m}/${d}/${y}`,
      (y: string, m: string, d: string) => `${y}${m}${d}`,
    );
    const day = fc.date({ min: new Date('1900-01-01'), max: new Date('2099-12-31'), noInvalidDate: true });
    fc.assert(
      fc.property(day, form, (date, write) => {
        const [y, m, d] = date.toISOString().slice(0, 10).split('-') as [string, string, string];
        return kinds(`seen ${write(y, m, d)} again`).some((kind) => kind === 'date' || kind === 'born');
      }),
    );
  });
});

// 45 CFR 164.514(b)(2)(i): items C (ages), D to G, K, N, O; invented values
describe('contact data and numbers in text', () => {
  it.each([
    'call 020 7946 0018',
    '+49 30 901820',
    '(212) 555-0137',
    '212-555-0137',
    '06 12 34 56 78',
    'tel 5550137',
    'rowan@example.org',
    'rowan (at) example.org',
    'https://example.org/x',
    'www.example.org',
    'example.com',
    '@rowan.t',
    'at 192.168.10.24',
  ])('finds contact data in "%s"', (text) => expect(kinds(text)).toContain('contact'));

  it.each(['078-05-1120', 'licence 84120937', 'lot 123456789'])(
    'finds a number of a person in "%s"',
    (text) => expect(kinds(text)).toContain('number'),
  );

  it('finds an age of 90, and lets 89 stand', () => {
    expect([kinds('aged 90'), kinds('92-year-old'), kinds('89 years old'), kinds('90 % filled')]).toEqual([
      ['age'],
      ['age'],
      [],
      [],
    ]);
  });
});

describe('ordinary captions', () => {
  it.each([
    'Middle mesial orifice between MB and ML',
    'Working length 20.5 mm, MB cusp tip',
    'Shaped to 25/.04, irrigated with 5.25% NaOCl',
    'Sizes 10/15/20 in sequence',
    'Files 06 08 10 15 20 to length',
    'ISO 10-15-20',
    'MB 20.5, ML 20.0, D 19.5 mm',
    '20.5 20.0 19.5 21.0',
    'FDI 46, Universal 30, LR6',
    'x10, then x16 magnification',
    'Recall after 6 months',
    'Filled within 1/2 mm of the apex',
    'Fracture line 1/3 of the root',
    'MB1 and MB2 joined 4 mm from the apex',
    'DL in a third root',
    'Cone fit at 21 mm with tug-back',
    'Master cone 30/.04',
    'Pulp necrosis with chronic apical abscess',
    'Sinus tract traced with gutta-percha 25',
    'Bleeding stopped after 2 to 3 minutes',
    'Calcium hydroxide for 2 weeks',
    'EDTA 17 %, 1 ml, 60 s',
    'Sealer puff at D',
    'Crown removed, post still in place',
    'Ratio 1:50000',
    'Obturation, warm vertical, 3 mm plug',
    'C-shaped canal, type C1',
    'Vertucci type II, 2-1',
    'Isthmus between MB and ML, 2 mm deep',
    'Separated file, 3 mm, size 15',
    'Instrument 25/06 bypassed',
    'K-file 10 at 19.5',
    'Orifice seal 2 mm, flowable',
    'Swelling gone after 7 days',
    'Probing 3-2-3 buccal, 3-3-4 lingual',
    'Probing 3 2 3 4 2 3',
    'Percussion +, palpation -, cold 0',
    'EPT 45/80',
    'Tooth 36 for comparison',
    'Teeth 45-47',
    'Root-end resection 3 mm, 0 degree bevel',
    'Root-end filling 3 mm',
    'Suture 6-0, removed after 4 days',
    'Suture 5-0',
    '0.12 % chlorhexidine',
    'Exposure 60 kV 7 mA 0.1 s',
    'Voxel 0.08 mm, slice 1 of 12',
    'PAI 4 before, 2 after 12 months',
    'Filled in 2019 elsewhere',
    'Perforation 1.5 x 1.0 mm',
    'Curvature about 30 degrees',
    'Second visit, day 14',
    'May need a post',
    'On the march to the apex',
    'Canals may be 20 mm long',
    'Irrigated 3 x 20 s',
    'Gauge 30 needle, 2 mm short of length',
    'Lens f/2.8, 1/125 s, ISO 200',
    'Fig. 3, mesial view',
    'Restored with onlay 4-6 weeks later',
    'Temperature 200 C, 2 s',
    'Rinsed.In the apex a stop was felt',
    'Apex at 0.5 0.4 0.3',
    'No. 8 file to patency',
    'Retreatment of 1 of 3 canals, 12.5 mm post',
  ])('raise no alarm: "%s"', (text) => {
    const plain = buildTerms(
      { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' },
      '2026-02-11',
    );
    expect(findIdentifiers(text, plain)).toEqual([]);
  });

  it('never throws for any text or any patient', () => {
    const name = fc.string({ unit: 'binary', maxLength: 20 });
    fc.assert(
      fc.property(
        fc.array(name, { maxLength: 3 }),
        name,
        fc.string({ unit: 'binary' }),
        (names, chart, text) => {
          findIdentifiers(text, buildTerms({ chart, names, born: '2000-01-01' }, '2026-02-11'));
        },
      ),
    );
  });
});
