import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isCode } from '../../src/core/code.js';
import {
  addCase,
  addCaseCode,
  addVisit,
  clearTmp,
  codesInUse,
  emptyCodeBook,
  emptyPatientBook,
  findByChart,
  listHeld,
  listVisits,
  loadCodes,
  loadPatients,
  loadVisit,
  saveCodes,
  saveHeld,
  savePatients,
  saveVisit,
  settleHeld,
  shareCodeFor,
  storeOriginal,
  storeStripped,
} from '../../src/practice/index.js';
import { codeOf, freshPractice, keptValue } from './scratch.js';

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
const PICTURE = Buffer.from('picture');
const ROWAN = { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02' };

/** The same bytes again and again, then counting on: what a code drawn twice looks like. */
const countingRandom = () => {
  let calls = 0;
  return (count: number): Uint8Array => new Uint8Array(count).fill(Math.floor(calls++ / 2) % 32);
};

describe('originals', () => {
  it('are stored once under their hash, for the owner alone, and storing again touches nothing', async () => {
    const practice = await freshPractice();
    const path = keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'));
    expect(path).toBe(join(practice.paths.originals, `${sha256('picture')}.jpg`));
    expect(readFileSync(path)).toEqual(PICTURE);
    const before = statSync(path, { bigint: true });
    expect(before.mode & 0o777n).toBe(0o600n);
    expect(keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'))).toBe(path);
    const after = statSync(path, { bigint: true });
    expect([after.ino, after.ctimeNs]).toEqual([before.ino, before.ctimeNs]);
    expect(readdirSync(practice.paths.originals)).toHaveLength(1);
  });

  it('are never overwritten: one that is damaged on the disk is reported and left', async () => {
    const practice = await freshPractice();
    const path = keptValue(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg'));
    writeFileSync(path, 'pictur!');
    expect(await storeOriginal(practice, PICTURE, sha256('picture'), 'jpg')).toEqual({
      kind: 'failed',
      reason: { code: 'disk', what: 'an original that is stored already is damaged' },
    });
    expect(readFileSync(path, 'utf8')).toBe('pictur!');
  });

  it('are stored under nothing but a hash and a short extension', async () => {
    const practice = await freshPractice();
    await expect(storeOriginal(practice, PICTURE, '../../Jane', 'jpg')).rejects.toThrow(TypeError);
    await expect(storeOriginal(practice, PICTURE, sha256('picture'), 'jpg/x')).rejects.toThrow(TypeError);
  });

  it('have stripped bytes that may be made anew', async () => {
    const practice = await freshPractice();
    await storeStripped(practice, PICTURE, sha256('original'), 'jpg');
    const path = keptValue(await storeStripped(practice, Buffer.from('better'), sha256('original'), 'jpg'));
    expect(readFileSync(path, 'utf8')).toBe('better');
  });
});

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

describe('the code book', () => {
  it('draws a code nobody has, of cases and shares together', () => {
    const random = countingRandom();
    const first = addCaseCode(emptyCodeBook(), random);
    const second = addCaseCode(first.book, random, ['222222']);
    const share = shareCodeFor(second.book, second.code, 'referrer', random, ['222222']);
    expect([first.code, second.code, share.shareCode]).toEqual(['000000', '111111', '333333']);
    expect(codesInUse(share.book).size).toBe(3);
    expect([...codesInUse(share.book)].every(isCode)).toBe(true);
  });

  it('keeps one share code per case and audience, and comes back as saved', async () => {
    const practice = await freshPractice();
    const random = countingRandom();
    const { book, code } = addCaseCode(emptyCodeBook(), random);
    const one = shareCodeFor(book, code, 'referrer', random);
    const again = shareCodeFor(one.book, code, 'referrer', random);
    const other = shareCodeFor(again.book, code, '__proto__', random);
    expect(again).toEqual(one);
    expect(other.shareCode).not.toBe(one.shareCode);
    keptValue(await saveCodes(practice, other.book));
    const loaded = keptValue(await loadCodes(practice));
    expect(shareCodeFor(loaded, code, 'referrer', random).shareCode).toBe(one.shareCode);
    expect(shareCodeFor(loaded, code, '__proto__', random).shareCode).toBe(other.shareCode);
  });

  it('does not go on for ever when the randomness repeats itself', () => {
    const stuck = (count: number) => new Uint8Array(count);
    const { book } = addCaseCode(emptyCodeBook(), stuck);
    expect(() => addCaseCode(book, stuck)).toThrow('randomness');
  });
});

describe('visits and holds', () => {
  it('come back as filed, by id, and only when filed to the end', async () => {
    const practice = await freshPractice();
    keptValue(
      await saveVisit(practice, 'B2', { sidecar: Buffer.from('tooth: 46\r\n'), pictures: [{ n: 1 }] }),
    );
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    keptValue(
      await saveVisit(practice, 'B2', { sidecar: Buffer.from('tooth: 47\r\n'), pictures: [{ n: 2 }] }),
    );
    const visits = keptValue(await listVisits(practice));
    expect(visits.map(({ id }) => id)).toEqual(['A1', 'B2']);
    expect(visits[1]).toEqual({
      id: 'B2',
      sidecar: Buffer.from('tooth: 47\r\n'),
      pictures: [{ n: 2 }],
      matches: true,
    });
    expect(keptValue(await loadVisit(practice, 'none'))).toBeNull();
    await expect(saveVisit(practice, '../x', { sidecar: PICTURE, pictures: [] })).rejects.toThrow(TypeError);
  });

  it('show when a kill came between the pictures and the sidecar', async () => {
    const practice = await freshPractice();
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    writeFileSync(join(practice.paths.visits, 'A1/visit.yaml'), 'b');
    expect(keptValue(await loadVisit(practice, 'A1'))?.matches).toBe(false);
  });

  it('spoil the list when damaged, rather than being left out of it', async () => {
    const practice = await freshPractice();
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    writeFileSync(join(practice.paths.visits, 'A1/pictures.json'), '{');
    expect(codeOf(await listVisits(practice))).toBe('ledger-damaged');
    writeFileSync(join(practice.paths.held, 'x.json'), '{');
    expect(codeOf(await listHeld(practice))).toBe('ledger-damaged');
  });

  it('are held until settled, once an id', async () => {
    const practice = await freshPractice();
    keptValue(await saveHeld(practice, 'b', { folder: 'room 2', reason: 'no-sidecar' }));
    keptValue(await saveHeld(practice, 'a', { folder: 'room 1' }));
    keptValue(await saveHeld(practice, 'b', { folder: 'room 2', reason: 'other-patient' }));
    expect(keptValue(await listHeld(practice))).toEqual([
      { id: 'a', hold: { folder: 'room 1' } },
      { id: 'b', hold: { folder: 'room 2', reason: 'other-patient' } },
    ]);
    keptValue(await settleHeld(practice, 'b'));
    keptValue(await settleHeld(practice, 'b'));
    expect(keptValue(await listHeld(practice)).map(({ id }) => id)).toEqual(['a']);
  });

  it('leave nothing in private/tmp once it is cleared', async () => {
    const practice = await freshPractice();
    writeFileSync(join(practice.paths.tmp, 'a'), 'a');
    keptValue(await clearTmp(practice));
    expect(readdirSync(practice.paths.tmp)).toEqual([]);
  });
});
