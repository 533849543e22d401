import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { IdentifyingString, PictureFacts } from '../../../src/core/picture-facts.js';
import { sentenceOf } from '../../../src/core/reason-sentence.js';
import { type GuardInput, guard } from '../../../src/stages/guard/index.js';

const facts = (some: Partial<PictureFacts>): PictureFacts => ({
  format: 'JPEG',
  widthPx: 10,
  heightPx: 10,
  orientation: 1,
  bitsPerChannel: 8,
  grey: false,
  takenAt: null,
  device: null,
  source: null,
  carriers: {},
  identifying: [],
  notes: [],
  ...some,
});

const PATIENT = { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' };

const ask = (pictures: Record<string, Partial<PictureFacts>>, more: Partial<GuardInput> = {}) =>
  guard({
    patient: PATIENT,
    visitDate: '2026-02-11',
    pictures: Object.entries(pictures).map(([name, some]) => ({ name, facts: facts(some) })),
    filedUnderAnother: [],
    offsetsSeconds: {},
    answers: [],
    ...more,
  });

const says = (kind: IdentifyingString['kind'], value: string, field = 'PatientName') => ({
  identifying: [{ kind, field, value }],
});

describe('a name, number or birth date in the metadata', () => {
  it.each([
    ['person-name', 'SAMPLE^ALEX'],
    ['person-name', 'Testcase, Jane'],
    ['person-name', 'SAMPLE^ALEX=見本^花子'],
    ['person-id', 'B-99999'],
    ['birth-date', '19510101'],
    ['birth-date', '1984-06-20'],
    ['free-text', 'IMG for SAMPLE^ALEX'],
    ['free-text', 'Patient: Alex Sample'],
  ] as const)('of somebody else holds the visit: %s %s', (kind, value) => {
    const reason = ask({ 'a.jpg': says(kind, value), 'b.jpg': {} });
    expect(reason).toEqual({ code: 'other-patient', because: 'name-in-metadata', pictures: ['a.jpg'] });
    expect(sentenceOf(reason as NonNullable<typeof reason>)).not.toContain(value);
  });

  it.each([
    ['person-name', 'TESTCASE^ROWAN'],
    ['person-name', 'Rowan Tsetcase'],
    ['person-name', 'R Testcase'],
    ['person-name', 'ANONYMOUS'],
    ['person-name', 'Dr. Alex Sample'],
    ['person-name', 'SAMPLE^ALEX^^Prof'],
    ['person-name', ''],
    ['person-id', 'A20417'],
    ['person-id', '00A-20417'],
    ['person-id', ''],
    ['birth-date', '19840602'],
    ['birth-date', '1984:06:02'],
    ['birth-date', '19000101'],
    ['birth-date', 'unknown'],
    ['free-text', 'Alex Sample'],
    ['free-text', 'TESTCASE^ROWAN'],
    ['other', 'SAMPLE^ALEX'],
  ] as const)('that is this patient, a dentist or nobody lets it pass: %s "%s"', (kind, value) => {
    expect(ask({ 'a.jpg': says(kind, value) })).toBeNull();
  });

  it.each(['Artist', 'CameraOwnerName', 'Copyright', 'dc:creator', 'By-line'])(
    'in the field %s is no patient',
    (field) => {
      expect(ask({ 'a.jpg': says('free-text', 'SAMPLE^ALEX', field) })).toBeNull();
    },
  );

  it('says nothing where the sidecar says nothing', () => {
    const nobody = { patient: { chart: null, names: [], born: null } };
    expect(ask({ 'a.jpg': says('person-name', 'SAMPLE^ALEX') }, nobody)).toBeNull();
    expect(ask({ 'a.jpg': says('person-id', '1') }, nobody)).toBeNull();
  });

  it('outweighs a number of the sensor software when name and birth date agree', () => {
    const identifying = [
      { kind: 'person-name', field: 'PatientName', value: 'TESTCASE^ROWAN' },
      { kind: 'birth-date', field: 'PatientBirthDate', value: '19840602' },
      { kind: 'person-id', field: 'PatientID', value: '777' },
    ] as const;
    expect(ask({ 'a.jpg': { identifying: [...identifying] } })).toBeNull();
    expect(ask({ 'a.jpg': { identifying: [identifying[0], identifying[2]] } })).not.toBeNull();
  });

  it('fits any of several names', () => {
    const patient = { ...PATIENT, names: ['Rowan Testcase', 'Rowan Formerly'] };
    expect(ask({ 'a.jpg': says('person-name', 'FORMERLY^ROWAN') }, { patient })).toBeNull();
    expect(
      ask(
        { 'a.jpg': says('person-name', 'TESTCASE^ROWAN') },
        { patient: { ...PATIENT, names: ['Rowan', 'Testcase'] } },
      ),
    ).toBeNull();
  });
});

describe('capture dates', () => {
  const at = (takenAt: string | null, source: string | null = null) => ({ takenAt, source });

  it('in two clusters hold the visit and name the pictures outside its day', () => {
    const reason = ask({
      'a.jpg': at('2026-02-10T16:00:00'),
      'b.jpg': at('2026-02-11T09:00:00'),
      'c.jpg': at(null),
      'd.jpg': at('2026-02-10T16:05:00.25'),
    });
    expect(reason).toEqual({ code: 'other-patient', because: 'capture-dates', pictures: ['a.jpg', 'd.jpg'] });
  });

  it('name the smaller cluster when neither holds the day of the visit', () => {
    const pictures = {
      'a.jpg': at('2026-01-01T09:00:00'),
      'b.jpg': at('2026-01-01T09:01:00'),
      'c.jpg': at('2026-01-05T09:00:00'),
    };
    expect(ask(pictures)).toMatchObject({ pictures: ['c.jpg'] });
    expect(ask(pictures, { visitDate: null })).toMatchObject({ pictures: ['c.jpg'] });
  });

  it('within twelve hours of each other are one cluster, also past midnight', () => {
    expect(ask({ 'a.jpg': at('2026-02-11T20:00:00'), 'b.jpg': at('2026-02-12T07:59:59') })).toBeNull();
    expect(ask({ 'a.jpg': at('2026-02-11T20:00:00'), 'b.jpg': at('2026-02-12T08:00:01') })).not.toBeNull();
  });

  it.each(['picture name', 'source'])('take an offset by %s into account', (by) => {
    const pictures = {
      'a.jpg': at('2026-02-11T09:00:00'),
      'b.jpg': at('2025-02-11T09:10:00', 'Maker Model'),
    };
    const offsetsSeconds = { [by === 'source' ? 'Maker Model' : 'b.jpg']: 365 * 86_400 };
    expect(ask(pictures)).not.toBeNull();
    expect(ask(pictures, { offsetsSeconds })).toBeNull();
  });

  it.each(['0000-00-00T00:00:00', '2026-02-30T09:00:00', 'yesterday', ''])(
    'that cannot be read say nothing: "%s"',
    (time) => {
      expect(ask({ 'a.jpg': at('2026-02-11T09:00:00'), 'b.jpg': at(time) })).toBeNull();
    },
  );

  it('never hold a visit of one sitting, whatever its order', () => {
    const minutes = fc.array(fc.integer({ min: 0, max: 600 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(minutes, (list) => {
        const pictures = list.map(
          (minute, place) =>
            [`${place}.jpg`, at(new Date(Date.UTC(2026, 1, 11, 8, minute)).toISOString())] as const,
        );
        return ask(Object.fromEntries(pictures)) === null;
      }),
    );
  });
});

describe('order and answers', () => {
  const everything = {
    'a.jpg': { ...says('person-name', 'SAMPLE^ALEX'), takenAt: '2026-01-01T09:00:00' },
    'b.jpg': { takenAt: '2026-02-11T09:00:00' },
  };

  it('names the surest ground: filed before, then the name, then the dates', () => {
    expect(ask(everything, { filedUnderAnother: ['b.jpg'] })).toMatchObject({
      because: 'filed-under-another',
      pictures: ['b.jpg'],
    });
    expect(ask(everything)).toMatchObject({ because: 'name-in-metadata' });
  });

  it('takes an answer for other days for no answer to a name', () => {
    const answers = [{ code: 'capture-dates', file: null, by: 'AB', why: 'day before', audience: [] }];
    const days = { 'a.jpg': { takenAt: '2026-01-01T09:00:00' }, 'b.jpg': everything['b.jpg'] };
    expect(ask(days)).toMatchObject({ because: 'capture-dates' });
    expect(ask(days, { answers })).toBeNull();
    expect(ask(everything, { answers })).toMatchObject({ because: 'name-in-metadata', pictures: ['a.jpg'] });
  });

  it('lets a person settle all of them, with initials', () => {
    const answer = (by: string | null) => ({
      answers: [{ code: 'other-patient', file: null, by, why: 'checked', audience: [] }],
      filedUnderAnother: ['b.jpg'],
    });
    expect(ask(everything, answer('AB'))).toBeNull();
    expect(ask(everything, answer(null))).not.toBeNull();
    expect(ask(everything, answer(' '))).not.toBeNull();
    const another = { code: 'shot-missing', file: null, by: 'AB', why: null, audience: [] };
    expect(ask(everything, { answers: [another] })).not.toBeNull();
    const settled = (file: string) => [
      { code: 'other-patient', file, by: 'AB', why: 'checked', audience: [] },
    ];
    expect(ask(everything, { answers: settled('A.JPG') })).toBeNull();
    expect(ask(everything, { answers: settled('b.jpg') })).toMatchObject({ pictures: ['a.jpg'] });
  });

  it('never throws for whatever metadata says', () => {
    const one = fc.record({
      kind: fc.constantFrom(
        'person-name' as const,
        'person-id' as const,
        'birth-date' as const,
        'free-text' as const,
      ),
      field: fc.string(),
      value: fc.string({ unit: 'binary' }),
    });
    fc.assert(
      fc.property(
        fc.array(one, { maxLength: 4 }),
        fc.string(),
        (identifying, takenAt) => void ask({ 'a.jpg': { identifying, takenAt } }),
      ),
    );
  });
});
