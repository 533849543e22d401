import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sentenceOf } from '../../../src/core/reason-sentence.js';
import type { FoundBox, FoundText } from '../../../src/finders/finder.js';
import { guardTexts } from '../../../src/stages/guard/index.js';

const PATIENT = { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' };
type Patient = Parameters<typeof guardTexts>[0]['patient'];

const LINE_PX = 20;

/** A text as the finder gives it: its box stands out by its height at both ends. */
const text = (said: string, x = 40, y = 40, confidence = 0.95): FoundText => ({
  box: [x - LINE_PX, y, said.length * 12 + 2 * LINE_PX, LINE_PX + 4] as FoundBox,
  text: said,
  confidence,
  score: 0.95,
  by: 'net',
});

/** Lines of a block, one under the other. */
const block = (...lines: string[]): FoundText[] => lines.map((line, at) => text(line, 40, 40 + at * 26));

const ask = (texts: FoundText[], patient: Patient = PATIENT) =>
  guardTexts({ patient, pictures: [{ name: 'a.jpg', texts }], answers: [] });

const HELD = { code: 'other-patient', because: 'name-in-pixels', pictures: ['a.jpg'] };

describe('another person in the pixels', () => {
  it.each([
    'SAMPLE, ALEX',
    'Sample, Alex M.',
    'SAMPLE^ALEX',
    'SAMPLE. ALEX',
    'SAMP1E, A1EX',
    'Patient: Alex Sample',
    'PATIENT NAME ALEX SAMPLE',
    "Patient's Name: SAMPLE ALEX 41Y F",
    'Pat. Sample, Alex',
    'Pt: Sample Alex',
    'Name: Testcase, Jane',
    'Name : Sample',
    'Nom: SAMPLE Alex',
    'Paciente: Alex Sample',
    'Paziente Sample Alex',
    'Patientin: Sample, Alex',
    'Name des Patienten: Alex Sample',
    'ASTHENIS? Name: Sample Alex',
    '姓名: Sample Alex',
    'Patlent Name: Sample Alex',
    'Mr Alex Sample',
    'Frau Sample',
    'DOB: 12/03/1951',
    'D0B 1951-03-12',
    'Born 12 March 1951',
    'geb. 12.03.1951',
    'Geburtsdatum: 12.03.1951',
    'né le 12/03/1951',
    'Fecha de nacimiento: 12-03-1951',
    'Data di nascita 12/03/1951',
    'Date of Birth: 12.03.51',
    'DOB: 12O3195l'.replace('O3195l', '.O3.195l'),
    'ID: B-94422',
    'ID 94422',
    'Pat-Nr. 94422',
    'Patienten-Nr.: 94422',
    'MRN 94422',
    'Chart B-19442',
    'Chart no: 94422',
    'N° dossier: 94422',
    'Sample, Alex DOB: 12.03.1951 ID: 94422',
    'ALEX SAMPLE ID 94422',
    'ALEX SAMPLE 41Y',
    'SAMPLE,Alex1951-03-12',
    'SAMPLE, ALEX12.03.1951',
    '*12.03.1951 F',
    'Sample Alex *1951-03-12',
  ])('holds the visit: "%s"', (said) => {
    const reason = ask([text(said)]);
    expect(reason).toEqual(HELD);
    expect(sentenceOf(reason!)).not.toMatch(/sample|alex|94422|1951/i);
  });

  it('is found when label and value stand in two boxes, side by side or one below the other', () => {
    expect(ask([text('Patient:', 40, 40), text('Alex Sample', 170, 41)])).toEqual(HELD);
    expect(ask([text('DOB', 40, 40), text('12.03.1951', 110, 40)])).toEqual(HELD);
    expect(ask(block('Patient ID', '94422'))).toEqual(HELD);
    const heads = [text('Name', 40, 40), text('DOB', 300, 40)];
    const values = [text('Rowan Testcase', 40, 68), text('12.03.1951', 300, 68)];
    expect(ask([...heads, ...values])).toEqual(HELD);
  });

  it('is found at the head of a block with a number or birth date that is not the patient’s either', () => {
    expect(ask(block('ALEX SAMPLE', 'Chart B-19442'))).toEqual(HELD);
    expect(ask(block('Sample Alex', 'DOB: ??'))).toEqual(HELD);
  });

  it('names every picture that shows one, and no other', () => {
    const pictures = [
      { name: 'a.jpg', texts: [text('SAMPLE, ALEX')] },
      { name: 'b.jpg', texts: [text('TESTCASE, ROWAN')] },
      { name: 'c.jpg', texts: [] },
      { name: 'd.jpg', texts: [text('ID: 94422')] },
    ];
    expect(guardTexts({ patient: PATIENT, pictures, answers: [] })).toMatchObject({
      pictures: ['a.jpg', 'd.jpg'],
    });
  });

  it('is settled by a named person, for all or for the picture the answer names', () => {
    const pictures = ['a.jpg', 'b.jpg'].map((name) => ({ name, texts: [text('SAMPLE, ALEX')] }));
    const answer = {
      code: 'other-patient',
      file: null as string | null,
      by: 'AB' as string | null,
      why: 'an old film',
      audience: [],
    };
    const asked = (some: Partial<typeof answer>) =>
      guardTexts({ patient: PATIENT, pictures, answers: [{ ...answer, ...some }] });
    expect(asked({})).toBeNull();
    expect(asked({ file: 'A.JPG' })).toMatchObject({ pictures: ['b.jpg'] });
    expect(asked({ by: ' ' })).toMatchObject({ pictures: ['a.jpg', 'b.jpg'] });
    expect(asked({ code: 'face' })).not.toBeNull();
  });
});

describe('the patient in the pixels', () => {
  it.each([
    'TESTCASE, ROWAN',
    'Rowan Testcase',
    'Patient: ROWAN TESTCASE',
    'TESTCASE^ROWAN^^Mr',
    'Testcase, R.',
    'R. Testcase',
    'Name: Testcase',
    'Name: TE5TCA5E, R0WAN',
    'Patient: Tesicase, Rowan',
    'Name: TESTCAS',
    'Name: Testcase Rowan Maria',
    'Pat: TESTCASEROWAN',
    'Mr Testcase',
    'DOB: 02.06.1984',
    'DOB 06/02/1984',
    'Born: 2 June 1984',
    'geb. 2.6.84',
    'DOB: 1984-06-03',
    'DOB: O2.O6.l984',
    'ID: A20417',
    'ID: 0020417',
    'Chart A-2O4I7',
    'Chart A-20411',
    'Pat-Nr: 20417',
    'Testcase, Rowan DOB: 02.06.1984 ID: A-20417',
    'TESTCASE,Rowan1984-06-02',
    'Rowan Testcase *02.06.1984',
  ])('holds nothing: "%s"', (said) => {
    expect(ask([text(said)])).toBeNull();
  });

  it('is known under every name, and by first and last name given apart', () => {
    const patient = { ...PATIENT, names: ['Rowan Testcase', 'Rowan Formerly'] };
    expect(ask([text('FORMERLY, ROWAN')], patient)).toBeNull();
    expect(ask([text('TESTCASE, ROWAN')], { ...PATIENT, names: ['Rowan', 'Testcase'] })).toBeNull();
  });

  it('may bear another number that the device gave, beside the own name', () => {
    expect(ask(block('Testcase, Rowan', 'ID: 94422'))).toBeNull();
    expect(ask(block('Testcase, Rowan', 'Chart: 94422'))).not.toBeNull();
    expect(ask(block('Testcase, Rowan', 'DOB: 02.06.1984', 'Chart: 94422'))).toBeNull();
  });

  it('may have changed the name when number and birth date agree', () => {
    expect(ask(block('FORMERLY, ROWAN', 'DOB: 02.06.1984', 'Chart A-20417'))).toBeNull();
    expect(ask(block('FORMERLY, ROWAN', 'Chart A-20417'))).not.toBeNull();
  });

  it('is not cleared by a name alone when the birth date is another: father and son', () => {
    expect(ask(block('Testcase, Rowan', 'DOB: 12.03.1951'))).toEqual(HELD);
  });
});

describe('what is no patient says nothing', () => {
  it.each([
    'Dr. Alex Sample',
    'Dr Sample, Alex',
    'Sample, Alex DDS',
    'Prof. Sample',
    'Dentist: Sample, Alex',
    'Operator: Alex Sample',
    'Operator ID: 94422',
    'Referred by Alex Sample',
    'Behandler: Sample, Alex',
    '© Alex Sample',
    'Photo: Alex Sample',
    'Owner: Sample, Alex',
    'Bright Clinic, Springfield',
    'Oak Street Dental',
    'Praxis: Sample, Alex',
    'Springfield, OR',
    'Berlin, Germany',
    'Device: Sample, Alex',
    'Device ID: 94422',
    'Sensor SN 94422',
    'Image ID: 94422',
    'Tooth: 46, distal',
    'Periapical, mesial',
    'Left, lateral view',
    'Per1apical, mesia1',
    'Alex Sample',
    'Bright Smile',
    'ACME SENSOR',
    'Date: 12.03.2026',
    '12/03/2026 14:22',
    '63 kV, 7 mA',
    'FILM,LEFT12.03.2026',
    '*',
    '* 46 mesial',
    '**12.5',
    'Patient: ',
    'Patient: Anonymous',
    'Patient',
    'Name: 0412',
    'Name: Case12',
    'Name: ABCD1234',
    'scan.jpg',
    'www.bright.example',
    'St. Mary',
    'Room A1, B2',
    'Name: IMG_0412',
    'Patient: 46 mesial',
    'ID',
    'ID: 7',
    'ID: ----',
    'DOB: unknown',
    'DOB: 99.99.9999',
    'DOB: 1951',
    'R',
    '10 mm',
    '',
    '、、、',
  ])('"%s"', (said) => {
    expect(ask([text(said)])).toBeNull();
  });

  it('a dentist named in the next box', () => {
    expect(ask([text('Dr', 40, 40), text('Sample, Alex', 100, 40)])).toBeNull();
    expect(ask([text('Operator:', 40, 40), text('Sample, Alex', 190, 40)])).toBeNull();
    expect(ask(block('Dentist', 'Sample, Alex'))).toBeNull();
  });

  it('a name far from any label', () => {
    expect(ask([text('Patient:', 40, 40), text('Alex Sample', 700, 600)])).toBeNull();
  });

  it('what was read with little confidence', () => {
    expect(ask([text('SAMPLE, ALEX', 40, 40, 0.5), text('ID: 94422', 40, 400, 0.6)])).toBeNull();
  });

  it('anything, where the sidecar does not say who the patient is', () => {
    const nobody = { chart: null, names: [], born: null };
    expect(ask(block('SAMPLE, ALEX', 'DOB: 12.03.1951', 'ID: 94422'), nobody)).toBeNull();
  });

  it('a name in letters that the sidecar does not use', () => {
    expect(ask([text('Name: Sample, Alex')], { ...PATIENT, names: ['Ροζα Δοκιμη'] })).toBeNull();
  });
});

// Invented names: given names and surnames that are ordinary words or none, and short, long and parted ones.
const GIVEN = ['Rowan', 'Alex', 'Juniper', 'Wei', 'Anne-Marie', 'Zoë', 'Bo', 'Maximilian', 'Jón', 'Priya'];
const SURNAMES = ['Testcase', 'Sample', 'Müller-Muster', "O'Sample", 'Li', 'Beispiel', 'Voorbeeld', 'Ng'];
const aName = fc.tuple(fc.constantFrom(...GIVEN), fc.constantFrom(...SURNAMES));

type Form = (given: string, last: string) => string;
const LABELLED: Form[] = [
  (given, last) => `Patient: ${given} ${last}`,
  (given, last) => `Name ${last} ${given}`,
  (given, last) => `Pat.: ${last}, ${given}`,
];
const FORMS: Form[] = [
  ...LABELLED,
  (given, last) => `${last.toUpperCase()}, ${given.toUpperCase()}`,
  (given, last) => `${last}^${given}`,
];
const CONFUSED: Record<string, string> = {
  O: '0',
  o: '0',
  I: '1',
  l: '1',
  S: '5',
  s: '5',
  B: '8',
  E: 'F',
  e: 'c',
  i: 'l',
  m: 'n',
  a: 'o',
  t: 'f',
};

/** One slip of a reader: a letter lost, doubled, taken for another, or two swapped. */
const aSlip = fc.record({
  kind: fc.constantFrom(
    'lose' as const,
    'double' as const,
    'confuse' as const,
    'change' as const,
    'swap' as const,
    'space' as const,
  ),
  at: fc.nat(),
  to: fc.constantFrom(...'abcdefghijklmnopqrstuvwxyz0158'),
});
function slipped(
  said: string,
  from: number,
  { kind, at, to }: { kind: string; at: number; to: string },
): string {
  const signs = [...said];
  const place = from + (at % Math.max(1, signs.length - from));
  const sign = signs[place] ?? '';
  switch (kind) {
    case 'lose':
      return signs.toSpliced(place, 1).join('');
    case 'double':
      return signs.toSpliced(place, 0, sign).join('');
    case 'confuse':
      return signs.with(place, CONFUSED[sign] ?? sign).join('');
    case 'change':
      return signs.with(place, to).join('');
    case 'space':
      return signs.toSpliced(place, 0, ' ').join('');
    default:
      return signs.toSpliced(place, 2, signs[place + 1] ?? '', sign).join('');
  }
}

describe('the reader’s slips', () => {
  it('never make another person of the patient: the own name with any one slip', () => {
    fc.assert(
      fc.property(aName, fc.constantFrom(...FORMS), aSlip, ([given, last], form, slip) => {
        const said = form(given, last);
        const label = /^(?:Patient: |Name |Pat\.: )/.exec(said)?.[0].length ?? 0;
        const patient = { ...PATIENT, names: [`${given} ${last}`] };
        expect(ask([text(slipped(said, label, slip))], patient)).toBeNull();
      }),
      { numRuns: 600 },
    );
  });

  it('never make another of the own birth date or number', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('DOB: 02.06.1984', 'ID: A-20417', 'Chart A-20417', 'geb. 2.6.1984'),
        aSlip,
        (said, slip) => {
          expect(ask([text(slipped(said, said.indexOf(' ') + 1, slip))])).toBeNull();
        },
      ),
      { numRuns: 400 },
    );
  });

  it('do not depend on who is asked for whom', () => {
    fc.assert(
      fc.property(
        aName,
        aName,
        fc.constantFrom(...LABELLED),
        ([given, last], [otherGiven, otherLast], form) => {
          const there = ask([text(form(given, last))], { ...PATIENT, names: [`${otherGiven} ${otherLast}`] });
          const back = ask([text(form(otherGiven, otherLast))], { ...PATIENT, names: [`${given} ${last}`] });
          expect(there === null).toBe(back === null);
        },
      ),
    );
  });

  it('never stop it, whatever text it is given', () => {
    const anyText = fc.record({
      box: fc.tuple(fc.integer(), fc.integer(), fc.integer(), fc.integer()),
      text: fc.oneof(
        fc.string({ unit: 'binary' }),
        fc.string({ unit: fc.constantFrom(...'Pat:ID, ^.-1DOB geb') }),
      ),
      confidence: fc.double({ min: 0, max: 1, noNaN: true }),
      score: fc.constant(0.9),
      by: fc.constant('net' as const),
    });
    fc.assert(fc.property(fc.array(anyText, { maxLength: 5 }), (texts) => void ask(texts)));
  });
});
