import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  buildCase,
  type FiledPicture,
  type FiledVisit,
  leaveOutTexts,
} from '../../../src/stages/record/index.js';
import { daysBetween } from '../../../src/stages/record/visit-days.js';
import type { CanalEntry, HandOff, ImageEntry, VisitDocument } from '../../../src/trade/visit-document.js';

const NOTHING: HandOff = {
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

function document(date: string | null, more: Partial<VisitDocument> = {}): VisitDocument {
  return {
    patient: { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' },
    visit: { date, state: 'interim' },
    treatment: { kind: null, course: 1 },
    tooth: { fdi: 46 },
    consent: { referral: null, teaching: null, publication: null },
    diagnosis: { pulp: null, apex: null },
    canals: [],
    images: [],
    align: [],
    answers: [],
    handoff: NOTHING,
    ...more,
  };
}

const canal = (label: string, more: Partial<CanalEntry> = {}): CanalEntry => ({
  canal: label,
  length: null,
  reference: null,
  size: null,
  taper: null,
  joins: null,
  dry: null,
  filled: null,
  note: null,
  ...more,
});

const entry = (file: string, line: number, more: Partial<ImageEntry> = {}): ImageEntry => ({
  file,
  line,
  stage: 'orifices',
  other: null,
  view: 'microscope',
  plane: null,
  angle: null,
  teeth: [],
  canals: [],
  mirror: false,
  orientation: null,
  magnification: null,
  caption: null,
  cover: [],
  keep: [],
  scale: null,
  paths: [],
  lesion: null,
  landmarks: {},
  frame: null,
  ...more,
});

function filed(image: ImageEntry, number: number, status: FiledPicture['status'] = 'kept'): FiledPicture {
  const shown = {
    file: `images/0${number}-orifices.jpg`,
    sha256: 'd'.repeat(64),
    widthPx: 400,
    heightPx: 300,
    radiograph: false,
    flipped: image.mirror,
    processing: [],
  };
  return {
    source: image.file,
    sha256: String(number).repeat(64),
    extension: 'jpg',
    status,
    reason: null,
    duplicateOf: null,
    facts: null,
    entry: image,
    number,
    shown: status === 'kept' ? shown : null,
  };
}

const visit = (id: string, said: VisitDocument, pictures: FiledPicture[] = []): FiledVisit => ({
  id,
  revision: 1,
  document: said,
  pictures,
});

describe('the case record', () => {
  it('orders visits by date whatever the order of filing, and tells days and years, never dates', () => {
    const record = buildCase('K7QD2M', { fdi: 46 }, [
      visit('b', document('2026-02-25')),
      visit('a', document('2026-02-11')),
      visit('c', document(null)),
    ]);
    expect(record.courses[0]?.visits.map(({ day, year }) => [day, year])).toEqual([
      [0, 2026],
      [14, 2026],
      [null, null],
    ]);
    expect(JSON.stringify(record)).not.toMatch(/2026-|Rowan|20417|1984/);
  });

  it('merges canals by label, later figures over earlier ones, and loses none', () => {
    const first = [canal('MB', { length: 20, reference: 'MB cusp tip' }), canal('ML', { length: 19.5 })];
    const second = [canal('MB', { length: 20.5, filled: 'gutta-percha' }), canal('MM', { length: 20 })];
    const { canals } = buildCase('K7QD2M', { fdi: 46 }, [
      visit('a', document('2026-02-11', { canals: first })),
      visit('b', document('2026-02-25', { canals: second })),
    ]).courses[0] as { canals: CanalEntry[] };
    expect(canals.map(({ canal: label, length }) => [label, length])).toEqual([
      ['MB', 20.5],
      ['ML', 19.5],
      ['MM', 20],
    ]);
    expect(canals[0]).toMatchObject({ reference: 'MB cusp tip', filled: 'gutta-percha' });
  });

  it('takes the hand-off of the last visit, but a mishap of any visit stays', () => {
    const { handoff } = buildCase('K7QD2M', { fdi: 46 }, [
      visit(
        'a',
        document('2026-02-11', {
          handoff: { ...NOTHING, chamber: 'paste', mishaps: ['file tip left in ML'] },
        }),
      ),
      visit('b', document('2026-02-25', { handoff: { ...NOTHING, temporary: 'glass ionomer' } })),
    ]).courses[0] as { handoff: HandOff };
    expect(handoff).toMatchObject({
      chamber: null,
      temporary: 'glass ionomer',
      mishaps: ['file tip left in ML'],
    });
  });

  it('keeps the last hand-off that says anything when a recall says nothing', () => {
    const { handoff } = buildCase('K7QD2M', { fdi: 46 }, [
      visit('a', document('2026-02-11', { handoff: { ...NOTHING, advise: 'cuspal coverage' } })),
      visit('b', document('2027-02-11')),
    ]).courses[0] as { handoff: HandOff };
    expect(handoff.advise).toBe('cuspal coverage');
  });

  it('leaves out every text that identifies, and counts them', () => {
    const images = [entry('a.jpg', 8, { caption: 'Floor as Rowan saw it' })];
    const said = document('2026-02-11', {
      images,
      canals: [canal('MB', { note: 'Rowan had pain', length: 20 })],
      handoff: {
        ...NOTHING,
        advise: 'crown for Rowan',
        by: '4 weeks',
        mishaps: ['Rowan moved', 'none else'],
      },
    });
    const whole = buildCase('K7QD2M', { fdi: 46 }, [visit('a', said, [filed(images[0] as ImageEntry, 1)])]);
    const { record, leftOut } = leaveOutTexts(whole, (text) => text.includes('Rowan'));
    expect(leftOut).toBe(4);
    expect(JSON.stringify(record)).not.toContain('Rowan');
    expect(record.courses[0]).toMatchObject({
      canals: [{ length: 20, note: null }],
      handoff: { advise: null, by: '4 weeks', mishaps: ['none else'] },
    });
  });

  it('keeps courses apart', () => {
    const again = document('2028-01-10', { treatment: { kind: 'retreatment', course: 2 } });
    const record = buildCase('K7QD2M', { fdi: 46 }, [
      visit('b', again),
      visit('a', document('2026-02-11', { canals: [canal('MB')] })),
    ]);
    expect(
      record.courses.map(({ course, canals, visits }) => [course, canals.length, visits[0]?.day]),
    ).toEqual([
      [1, 1, 0],
      [2, 0, 0],
    ]);
  });

  it('shows kept pictures only, in the order of the sidecar, with the tooth of the case where none is named', () => {
    const images = [entry('b.jpg', 8), entry('a.jpg', 9, { mirror: true }), entry('c.jpg', 10)];
    const pictures = [
      filed(images[1] as ImageEntry, 1),
      filed(images[0] as ImageEntry, 2),
      filed(images[2] as ImageEntry, 3, 'held'),
    ];
    const record = buildCase('K7QD2M', { fdi: 46 }, [
      visit('a', document('2026-02-11', { images }), pictures),
    ]);
    expect(
      record.pictures.map(({ number, order, flipped, teeth }) => [number, order, flipped, teeth]),
    ).toEqual([
      [1, 1, true, [{ fdi: 46 }]],
      [2, 0, false, [{ fdi: 46 }]],
    ]);
    expect(JSON.stringify(record)).not.toMatch(/a\.jpg|1111|dddd/);
  });

  it('gives a picture the scale of a length that a person marked in it', () => {
    const image = entry('a.jpg', 8, { scale: { from: [10, 10], to: [310, 410], mm: 20 } });
    const record = buildCase('K7QD2M', { fdi: 46 }, [
      visit('a', document(null, { images: [image] }), [filed(image, 1)]),
    ]);
    // 300 and 400 pixels across are 500 along (Euclid, Elements I.47): 20 mm over 500 px.
    expect(record.pictures[0]?.scale?.mmPerPxX).toBeCloseTo(0.04, 12);
  });

  it('counts days by the calendar, leap years included (Gregorian rule: 2028 is one, 2100 is none)', () => {
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
    expect(daysBetween('2100-02-28', '2100-03-01')).toBe(1);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40_000 }), fc.integer({ min: 0, max: 4000 }), (start, days) => {
        const iso = (day: number) => new Date(day * 86_400_000).toISOString().slice(0, 10);
        return daysBetween(iso(start), iso(start + days)) === days;
      }),
    );
  });
});
