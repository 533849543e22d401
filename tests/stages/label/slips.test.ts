import { describe, expect, it } from 'vitest';
import { errorsOf, firstOf, SOUND, said } from './sidecar-text.js';

const inImage = (rest: string): string =>
  `${SOUND}  - file: b.jpg\n    stage: access\n    view: microscope\n    ${rest}\n`;
const inCanal = (rest: string): string => `${SOUND}canals:\n  - {canal: MB, ${rest}}\n`;

describe('the wording of a mistake', () => {
  it('stands in the stated form', () => {
    expect(said(`${SOUND}  - file: b.jpg\n    stage: acess\n    view: microscope\n`)).toEqual([
      'visit.yaml:7:12: images[1].stage: "acess" is not a stage. Did you mean "access"? Allowed: pre-op, tests, isolation, access, disassembly, orifices, negotiation, working-length, shaping, irrigation, drying, medicament, cone-fit, exposure, capping, flap, resection, root-end-filling, suture, obturation, orifice-seal, temporary, core, post-op, recall, other.',
    ]);
  });

  it.each([
    ['a view', SOUND.replace('periapical', 'periapcal'), 'Did you mean "periapical"?'],
    ['a state', SOUND.replace('finished', 'finnished'), 'Did you mean "finished"?'],
    ['a treatment', `${SOUND}treatment: {kind: retretment}\n`, 'Did you mean "retreatment"?'],
    ['a key of a picture', inImage('mirrored: true'), 'Did you mean "mirror"?'],
    ['a top-level key', `pateint: {chart: 1}\ntooth: {fdi: 46}\nimages: []`, 'Did you mean "patient"?'],
    ['a key of the patient', SOUND.replace('names', 'name'), 'Did you mean "names"?'],
    ['a decimal comma', inCanal('length: "20,5"'), 'Did you mean 20.5?'],
    ['a decimal comma in brackets', inCanal('length: 20,5'), 'Write decimals with a point'],
    ['a unit', inCanal('length: 20.5mm'), 'Did you mean 20.5?'],
    ['a point left out', inCanal('length: 205'), 'Did you mean 20.5?'],
    ['a taper in per cent', inCanal('taper: 4'), 'Did you mean 0.04?'],
    ['a taper written 04', inCanal('taper: "04"'), 'Did you mean 0.04?'],
    ['size and taper in one', inCanal('size: 30/.04'), 'size: 30, taper: 0.04'],
    ['a magnification with its x', inImage('magnification: x10'), 'Did you mean 10?'],
    ['a date with points', SOUND.replace('2026-02-11', '11.02.2026'), '2026-02-11'],
    ['a date the calendar lacks', SOUND.replace('2026-02-11', '2026-02-30'), 'not a day of the calendar'],
    ['a tooth without its system', SOUND.replace('{fdi: 46}', '46'), '{fdi: 46}'],
    ['stage other without a word', inImage('').replace('access', 'other'), 'a word'],
    ['a word without stage other', inImage('word: crack'), 'stage other'],
    ['a box of no size', inImage('cover: [{box: [1, 1, 0, 5]}]'), 'above zero'],
    ['a box of three', inImage('cover: [{box: [1, 1, 5]}]'), '4 numbers'],
    ['a point beyond the edge', inImage('lesion: [[-1, 2], [3, 4], [5, 6]]'), 'at least -0.5'],
    ['a scale of no length', inImage('scale: {from: [1, 1], to: [1, 1], mm: 5}'), 'two different points'],
    ['frame 0', inImage('frame: 0'), 'at least 1'],
  ])('tells %s how to be mended', (_, text, hint) => {
    const sentences = said(text);
    expect(sentences.length).toBeLessThanOrEqual(2);
    expect(sentences.join('\n')).toContain(hint);
  });

  it('takes yes and no for true and false, and .04 for 0.04', () => {
    const { document, errors } = firstOf(
      `${inCanal('dry: yes, taper: .04')}consent: {referral: yes, teaching: No}\n`,
    );
    expect(errors).toEqual([]);
    expect([document.canals[0]?.dry, document.canals[0]?.taper]).toEqual([true, 0.04]);
    expect(document.consent).toEqual({ referral: true, teaching: false, publication: null });
  });

  it('places a missing key at what should hold it', () => {
    expect(errorsOf(`${SOUND}  - {file: b.jpg, stage: access}\n`)).toMatchObject([
      { line: 6, column: 5, field: 'images[1].view' },
    ]);
    expect(errorsOf(`${SOUND}  - {file: b.jpg, stage: , view: microscope}\n`)).toMatchObject([
      { line: 6, field: 'images[1].stage' },
    ]);
  });

  it('tells all mistakes of a file at once, in the order of the text', () => {
    const text =
      SOUND.replace('2026-02-11', '11.02.2026').replace('46', '49').replace('pre-op', 'preap') +
      'kolor: red\n';
    expect(errorsOf(text).map(({ line, field }) => [line, field])).toEqual([
      [2, 'visit.date'],
      [3, 'tooth'],
      [5, 'images[0].stage'],
      [6, 'kolor'],
    ]);
  });
});

describe('what identifies', () => {
  it.each([
    ['under patient', SOUND.replace('1984-06-02', '2.6.1984')],
    ['in a key under patient', SOUND.replace('born', 'Testcase')],
    ['in a word from a list', SOUND.replace('pre-op', 'Testcase')],
    ['in a key', `${SOUND}Rowan Testcase: 1\n`],
    ['in a number', inCanal('length: Testcase')],
    ['in a caption that is a list', inImage('caption: [Testcase]')],
    ['in a text under a group', `${SOUND}diagnosis: Testcase\n`],
    ['in a text that is too long', inImage(`caption: ${'Testcase '.repeat(200)}`)],
    ['in broken YAML', `${SOUND}handoff: {advise: "Testcase\n`],
    ['in the chart number twice', `${SOUND}visit: {date: 00123}\n`],
  ])('is never repeated: %s', (_, text) => {
    const told = JSON.stringify(errorsOf(text));
    expect(errorsOf(text).length).toBeGreaterThan(0);
    expect(told).not.toMatch(/testcase|rowan|1984|00123/i);
  });

  it('holds a caption alone and keeps the picture', () => {
    const { document, errors, heldFiles } = firstOf(inImage('caption: Testcase, MB found'));
    expect(document.images[1]).toMatchObject({ file: 'b.jpg', caption: null });
    expect(heldFiles).toEqual([]);
    expect(errors).toMatchObject([
      { field: 'images[1].caption', line: 9, column: 14, code: 'caption-identifies' },
    ]);
    expect(errors[0]).not.toHaveProperty('got');
  });

  it.each([
    ['canals[0].note', 'canals: [{canal: MB, note: seen 11.02.2026}]'],
    ['canals[0].reference', 'canals: [{canal: MB, reference: Testcase cusp}]'],
    ['diagnosis.pulp', 'diagnosis: {pulp: "necrosis, chart 00123"}'],
    ['handoff.by', 'handoff: {by: 2026-03-11, advise: cuspal coverage}'],
    ['handoff.restorer', 'handoff: {restorer: "mail rowan@example.org"}'],
    ['handoff.mishaps[1]', 'handoff: {mishaps: [ledge, call 212-555-0137]}'],
  ])('holds the text at %s', (field, line) => {
    const { errors, document } = firstOf(`${SOUND}${line}\n`);
    expect(errors).toMatchObject([{ field, code: 'caption-identifies' }]);
    expect(JSON.stringify({ ...document, patient: null, visit: null })).not.toMatch(
      /2026|testcase|00123|rowan|555/i,
    );
  });

  it('takes the entry along where it cannot do without the text', () => {
    const { heldFiles, document } = firstOf(`${inImage('canals: [Testcase]')}canals: [{canal: Rowan}]\n`);
    expect(heldFiles).toEqual([{ file: 'b.jpg', fields: ['canals'], line: 6 }]);
    expect(document.canals).toEqual([]);
  });

  it('leaves reasons given in answers alone: they stay private', () => {
    const { document, errors } = firstOf(
      `${SOUND}answers: [{code: other-patient, by: AB, why: Testcase has two cards}]\n`,
    );
    expect([errors, document.answers[0]?.why]).toEqual([[], 'Testcase has two cards']);
  });
});
