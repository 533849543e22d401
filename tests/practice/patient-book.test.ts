import { statSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  addCase,
  addVisit,
  emptyPatientBook,
  findByChart,
  loadCodes,
  loadPatients,
  savePatients,
} from '../../src/practice/index.js';
import { freshPractice, keptValue } from './scratch.js';

const ROWAN = { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' };

describe('the patient book', () => {
  it('is empty at first and comes back as it was saved', async () => {
    const practice = await freshPractice();
    expect(keptValue(await loadPatients(practice))).toEqual(emptyPatientBook());
    const { book, at } = addCase(emptyPatientBook(), null, ROWAN, { code: 'K7QD2M', tooth: { fdi: 46 } });
    const visit = { id: 'v1', date: '2026-02-11', course: 1, revision: 1 };
    keptValue(await savePatients(practice, addVisit(book, at, 'K7QD2M', visit)));
    expect(keptValue(await loadPatients(practice)).patients).toEqual([
      { ...ROWAN, cases: [{ code: 'K7QD2M', tooth: { fdi: 46 }, visits: [visit] }] },
    ]);
    expect(statSync(practice.paths.patients).mode & 0o777).toBe(0o600);
  });

  it('puts a second tooth under the same patient, and a new revision in the place of the old one', () => {
    const first = addCase(emptyPatientBook(), null, ROWAN, { code: 'K7QD2M', tooth: { fdi: 46 } });
    const patient = first.book.patients[0] ?? null;
    const second = addCase(
      first.book,
      patient,
      { ...ROWAN, names: ['Rowan T. Testcase'], born: null },
      { code: 'ABCDEF', tooth: { fdi: 47 } },
    );
    expect(second.at).toBe(0);
    const visits = [
      { id: 'v1', date: null, course: 1, revision: 1 },
      { id: 'v2', date: null, course: 1, revision: 1 },
      { id: 'v1', date: null, course: 1, revision: 2 },
    ];
    const book = visits.reduce((sum, visit) => addVisit(sum, 0, 'K7QD2M', visit), second.book);
    expect(book.patients).toHaveLength(1);
    expect(book.patients[0]?.names).toEqual(['Rowan Testcase', 'Rowan T. Testcase']);
    expect(book.patients[0]?.born).toBe('1984-06-02');
    expect(book.patients[0]?.cases.map(({ code }) => code)).toEqual(['K7QD2M', 'ABCDEF']);
    expect(book.patients[0]?.cases[0]?.visits).toEqual([visits[2], visits[1]]);
    expect(first.book.patients[0]?.cases).toHaveLength(1);
    expect(() => addVisit(book, 0, 'ZZZZZZ', visits[0] as never)).toThrow(TypeError);
  });

  it.each([
    ['the same', ROWAN, 'found'],
    ['another spelling of the number', { ...ROWAN, chart: ' a-20417 ' }, 'found'],
    ['another order, capitals and accents', { ...ROWAN, names: ['TESTCASE, R\u00F3wan'] }, 'found'],
    ['no name and no date', { ...ROWAN, names: [], born: null }, 'found'],
    ['a married name, born the same day', { ...ROWAN, names: ['Rowan Sample'] }, 'found'],
    ['a typing slip in the date alone', { ...ROWAN, born: '1984-06-20' }, 'found'],
    ['no part of the name', { ...ROWAN, names: ['Kim Sample'] }, 'other-person'],
    [
      'one shared part and another birth date',
      { ...ROWAN, names: ['Rowan Sample'], born: '1951-01-01' },
      'other-person',
    ],
    ['no name and another birth date', { ...ROWAN, names: [], born: '1951-01-01' }, 'other-person'],
    ['another number', { ...ROWAN, chart: 'A-20418' }, 'none'],
    ['no number', { ...ROWAN, chart: null }, 'none'],
  ])('finds by chart number and tells persons apart: %s', (_, person, kind) => {
    const { book } = addCase(emptyPatientBook(), null, ROWAN, { code: 'K7QD2M', tooth: { fdi: 46 } });
    expect(findByChart(book, person).kind).toBe(kind);
  });

  it.each(['', '{', '[]', '{"version":2,"patients":[]}', '{"version":1,"patients":[{"chart":5}]}'])(
    'is never taken for empty when damaged: %s',
    async (text) => {
      const practice = await freshPractice();
      writeFileSync(practice.paths.patients, text);
      writeFileSync(practice.paths.codes, text);
      expect(await loadPatients(practice)).toMatchObject({
        reason: { code: 'ledger-damaged', file: 'patients' },
      });
      expect(await loadCodes(practice)).toMatchObject({ reason: { code: 'ledger-damaged', file: 'codes' } });
    },
  );
});
