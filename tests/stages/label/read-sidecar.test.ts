import { describe, expect, it } from 'vitest';
import { documentsOf, errorsOf, firstOf, read, SOUND, WHOLE } from './sidecar-text.js';

describe('a sound sidecar', () => {
  it('is read whole, with nothing filled in that nobody wrote', () => {
    const { document, errors, heldFiles } = firstOf(WHOLE);
    expect([errors, heldFiles]).toEqual([[], []]);
    expect(document.canals[1]).toEqual({
      canal: 'MM',
      length: 20,
      reference: 'MB cusp tip',
      size: 25,
      taper: 0.04,
      joins: { canal: 'MB', at: 4 },
      dry: true,
      filled: 'gutta-percha and sealer',
      note: null,
    });
    expect(document.images.map(({ file, line, teeth, mirror }) => ({ file, line, teeth, mirror }))).toEqual([
      { file: 'IMG_0412.JPG', line: 14, teeth: [{ fdi: 46 }, { fdi: 47 }], mirror: false },
      { file: 'IMG_0418.JPG', line: 15, teeth: [{ fdi: 46 }], mirror: true },
      { file: 'film7.tif', line: 16, teeth: [{ fdi: 46 }], mirror: false },
    ]);
    expect(document.images[2]?.paths[0]?.apex).toEqual([12, 210]);
    expect(document.handoff).toMatchObject({ by: '4 weeks', next: null, mishaps: [] });
  });

  it('may leave out everything but tooth and images', () => {
    const { document, errors } = firstOf('tooth: {fdi: 46}\nimages: []\n');
    expect(errors).toEqual([]);
    expect(document.patient).toEqual({ chart: null, names: [], born: null });
    expect(document.treatment).toEqual({ kind: null, course: 1 });
    expect(document.consent).toEqual({ referral: null, teaching: null, publication: null });
  });

  it('keeps a chart number and a name as they are typed', () => {
    const charts = ['00123', '1e5', '0x1F', 'no', '2026-02-11', '"007"', "'1_000'"].map(
      (chart) =>
        firstOf(`patient: {chart: ${chart}, names: [No, Null, 'Yes']}\ntooth: {fdi: 46}\nimages: []`).document
          .patient,
    );
    expect(charts.map(({ chart }) => chart)).toEqual([
      '00123',
      '1e5',
      '0x1F',
      'no',
      '2026-02-11',
      '007',
      '1_000',
    ]);
    expect(charts[0]?.names).toEqual(['No', 'Null', 'Yes']);
  });

  it('takes one value where a list of one is meant', () => {
    const { document, errors } = firstOf(`patient: {names: Rowan Testcase}
tooth: {fdi: 46}
canals: {canal: mb, length: 20}
images: {file: a.jpg, stage: Pre_Op, view: Periapical, teeth: {fdi: 47}, canals: "mb, ml"}
handoff: {mishaps: ledge in MB}
`);
    expect(errors).toEqual([]);
    expect(document.images[0]).toMatchObject({ stage: 'pre-op', teeth: [{ fdi: 47 }], canals: ['MB', 'ML'] });
    expect([document.canals[0]?.canal, document.handoff.mishaps]).toEqual(['MB', ['ledge in MB']]);
  });

  it.each(['Pre-Op', 'PRE OP', 'pre_op', 'preop'])('takes "%s" for pre-op', (stage) => {
    expect(firstOf(SOUND.replace('pre-op', stage)).document.images[0]?.stage).toBe('pre-op');
  });

  it.each([
    ['{fdi: 46}', 46],
    ['{universal: 30}', 46],
    ['{palmer: LR6}', 46],
    ['{palmer: 6┐}', 46],
    ['{fdi: 46, universal: 30}', 46],
    ['{universal: A}', 55],
    ['{universal: "T"}', 85],
    ['{palmer: URA}', 51],
  ])('reads the tooth %s', (tooth, fdi) => {
    expect(firstOf(SOUND.replace('{fdi: 46}', tooth)).document.tooth).toEqual({ fdi });
  });

  it('takes a bare number under a declared notation only', () => {
    expect(firstOf(SOUND.replace('{fdi: 46}', '46'), 'fdi').document.tooth).toEqual({ fdi: 46 });
    expect(firstOf(SOUND.replace('{fdi: 46}', '30'), 'universal').document.tooth).toEqual({ fdi: 46 });
    expect(errorsOf(SOUND.replace('{fdi: 46}', '46'))).toMatchObject([
      { line: 3, column: 8, field: 'tooth', got: '46' },
    ]);
  });

  it('says stage other with a word and a band', () => {
    const { document } = firstOf(SOUND.replace('stage: pre-op', 'stage: other, word: crack, band: during'));
    expect(document.images[0]).toMatchObject({ stage: 'other', other: { word: 'crack', band: 'during' } });
  });
});

describe('several documents', () => {
  it('inherit patient, visit and consent and nothing else', () => {
    const [, second] = documentsOf(`${WHOLE}---\ntooth: {fdi: 47}\nimages: []\n`);
    expect(second?.document).toMatchObject({
      patient: { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' },
      visit: { date: '2026-02-11', state: 'finished' },
      consent: { referral: true, teaching: false, publication: false },
      treatment: { kind: null, course: 1 },
      diagnosis: { pulp: null, apex: null },
      canals: [],
      answers: [],
      handoff: { advise: null },
    });
  });

  it('may say the patient again, but no other one', () => {
    const again =
      'patient: {chart: 00123, names: [testcase, rowan]}\nvisit: {date: 2026-02-11, state: interim}';
    const [, second] = documentsOf(`${SOUND}---\n${again}\ntooth: {fdi: 47}\nimages: []\n`);
    expect(second?.document.visit).toEqual({ date: '2026-02-11', state: 'interim' });
    expect(
      errorsOf(`${SOUND}---\npatient: {chart: 9}\nvisit: {date: 2026-02-12}\ntooth: {fdi: 47}\nimages: []\n`),
    ).toMatchObject([
      { line: 7, field: 'patient.chart' },
      { line: 8, field: 'visit.date' },
    ]);
  });

  it('never name one tooth twice, in whatever notation', () => {
    const result = read(`${SOUND}---\ntooth: {universal: 30}\nimages: []\n`);
    expect(result).toMatchObject({ kind: 'refused', errors: [{ line: 7, field: 'tooth' }] });
  });

  it('may end with a line of dashes', () => {
    expect(documentsOf(`---\n${SOUND}---\n`)).toHaveLength(1);
  });
});

describe('what refuses and what holds', () => {
  it.each([
    ['an unknown top-level key', `${SOUND}colour: red\n`],
    ['the patient', SOUND.replace('1984-06-02', '1984-02-30')],
    ['a stray key under patient', SOUND.replace('born', 'birth')],
    ['the tooth', SOUND.replace('46', '49')],
    ['contradicting numbers of a tooth', SOUND.replace('{fdi: 46}', '{fdi: 46, universal: 3}')],
    ['a doubled key', `${SOUND}tooth: {fdi: 46}\n`],
    ['no images', 'tooth: {fdi: 46}'],
    ['images that are no list', 'tooth: {fdi: 46}\nimages: a.jpg'],
    ['no tooth', 'images: []'],
  ])('%s refuses the file', (_, text) => expect(read(text).kind).toBe('refused'));

  it('a mistake in one picture holds that picture, by name', () => {
    const { document, heldFiles, errors } = firstOf(
      `${SOUND}  - {file: b.jpg, stage: acess, view: microscope}\n`,
    );
    expect(document.images.map(({ file }) => file)).toEqual(['a.jpg']);
    expect(heldFiles).toEqual([{ file: 'b.jpg', fields: ['stage'], line: 6 }]);
    expect(errors).toMatchObject([{ line: 6, column: 26, field: 'images[1].stage', got: 'acess' }]);
  });

  it('a mistake in one canal leaves that canal out', () => {
    const { document, errors } = firstOf(
      `${SOUND}canals: [{canal: MB, length: long}, {canal: ML, length: 20}]\n`,
    );
    expect(document.canals.map(({ canal }) => canal)).toEqual(['ML']);
    expect(errors).toMatchObject([{ field: 'canals[0].length', got: 'long' }]);
  });

  it.each([
    ['visit', '{date: 2026-13-01, state: finished}', { date: null, state: null }],
    ['treatment', '{kind: filling}', { kind: null, course: 1 }],
    ['consent', '{referral: maybe, teaching: true}', { referral: null, teaching: null, publication: null }],
    ['diagnosis', 'necrosis', { pulp: null, apex: null }],
    ['align', '[{before: a}]', []],
    ['answers', '[{by: AB}]', []],
    ['canals', 'MB', []],
  ] as const)('a mistake under %s counts as if the key were absent', (key, value, absent) => {
    const text = SOUND.replace(/^visit:.*\n/m, '');
    const { document, errors } = firstOf(`${text}${key}: ${value}\n`);
    expect(document[key]).toEqual(absent);
    expect(errors).toHaveLength(1);
    expect(errors[0]?.field.split(/[.[]/)[0]).toBe(key);
    expect(document.images).toHaveLength(1);
  });

  it('holds both of two entries for one picture or one canal', () => {
    const { document, heldFiles, errors } = firstOf(
      `${SOUND}  - {file: A.JPG, stage: core, view: intraoral}\ncanals: [{canal: MB, length: 20}, {canal: mb, length: 21}]\n`,
    );
    expect([document.images, document.canals]).toEqual([[], []]);
    expect(heldFiles).toEqual([{ file: 'a.jpg', fields: ['file'], line: 5 }]);
    expect(errors.map(({ field }) => field)).toEqual(['images[1].file', 'canals[1].canal']);
  });

  it('is no mistake when something does not fit the rest of the record', () => {
    const { errors } = firstOf(
      `${SOUND}canals: [{canal: P, length: 35}, {canal: MB, joins: {canal: ZZ}}]\nanswers: [{code: nothing-known, by: AB}]\n`,
    );
    expect(errors).toEqual([]);
  });
});
