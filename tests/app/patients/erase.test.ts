import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeDraft } from '../../../src/app/draft/index.js';
import { readOnFile } from '../../../src/app/on-file.js';
import { beginErasure, finishErasure } from '../../../src/app/patients/erase/carry-out.js';
import { erasePatient } from '../../../src/app/patients/erase/index.js';
import { planErasure } from '../../../src/app/patients/erase/plan.js';
import { asOnlyWriter } from '../../../src/app/session.js';
import {
  loadErased,
  type Practice,
  readJournal,
  readRegister,
  readReviews,
  storeOriginal,
} from '../../../src/practice/index.js';
import { protect } from '../../practice/protection/protected.js';
import { freshFolder, intake, noise, testPorts, writeVisit } from '../small-practice.js';
import { filesOf, findIn, modesOf, ROWAN, sidecarOf, twoPatients } from './two-patients.js';

const ports = testPorts();
const yes = async (): Promise<boolean> => true;
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Nothing of the erased patient is in the practice any more, outside of its inbox. */
function expectGone(practice: Practice, pictures: { rowan: Uint8Array; held: Uint8Array }): void {
  for (const word of ROWAN.filter((one) => one !== '2026-02-11'))
    expect(findIn(practice, word), word).toEqual([]);
  for (const picture of [pictures.rowan, pictures.held]) {
    expect(findIn(practice, picture)).toEqual([]);
    expect(findIn(practice, sha256(picture))).toEqual([]);
  }
}

describe('erasing a patient', () => {
  it('leaves no byte of them, keeps everybody else, and says what a person must still do', async () => {
    const { practice, pictures, code, other, shareCode } = await twoPatients(ports);
    expect(findIn(practice, 'Testcase').length).toBeGreaterThan(3);
    const untouched = filesOf(practice).filter((path) => path.includes(`/cases/${other}/`));
    const before = untouched.map((path) => readFileSync(path));
    const done = await erasePatient(practice, ports, 'a-20417', yes);
    if (done.kind !== 'erased') throw new Error(done.kind);
    expectGone(practice, pictures);
    expect(findIn(practice, code).map((path) => basename(path))).toEqual(['register.jsonl']);
    expect(untouched.map((path) => readFileSync(path))).toEqual(before);
    expect(done.plan).toMatchObject({
      keptOriginals: 1,
      inbox: ['Testcase Rowan', 'rowan testcase 2'],
      recipients: [
        { to: 'Dr Example', shareCode, on: '2026-02-12' },
        { to: 'the patient', shareCode },
      ],
    });
    expect(existsSync(join(practice.paths.originals, `${sha256(pictures.shared)}.jpg`))).toBe(true);
    const onFile = await readOnFile(practice);
    expect(onFile.book.patients.map(({ chart }) => chart)).toEqual(['B-7']);
  });

  it('keeps the register without the person, and leaves a receipt that names nobody', async () => {
    const { practice, code } = await twoPatients(ports);
    const done = await erasePatient(practice, ports, 'A-20417', yes);
    if (done.kind !== 'erased') throw new Error(done.kind);
    const register = await readRegister(practice);
    expect(register.kind === 'kept' && register.value.map((one) => 'to' in one && one.to)).toEqual([
      'Dr Example',
      'the patient',
    ]);
    expect(await readReviews(practice)).toEqual({ kind: 'kept', value: [] });
    const journal = await readJournal(practice);
    const kinds = journal.kind === 'kept' ? journal.value : [];
    expect(kinds.some((entry) => entry['code'] === code)).toBe(false);
    expect(kinds.slice(-2)).toMatchObject([
      { kind: 'erasing', receipt: done.plan.receipt },
      { kind: 'erased', receipt: done.plan.receipt },
    ]);
    const receipt = readFileSync(join(practice.paths.private, done.paper), 'utf8');
    expect(receipt).toContain(done.plan.receipt);
    expect(receipt).toContain('Dr Example');
    expect(receipt).toContain('local law');
    expect(modesOf(practice).get(`private/${done.paper}`)).toBe(0o600);
  });

  it('takes pictures of limited audience with it, those that no visit shows any more too', async () => {
    const { practice } = await twoPatients(ports);
    const earlier = `${'e'.repeat(64)}.jpg`;
    writeFileSync(join(practice.paths.limited, earlier), 'a face of an earlier revision');
    expect((await erasePatient(practice, ports, 'A-20417', yes)).kind).toBe('erased');
    expect(readdirSync(practice.paths.limited)).toEqual([]);
  });

  it('does nothing without a yes, and knows nobody it does not know', async () => {
    const { practice } = await twoPatients(ports);
    const before = filesOf(practice).map((path) => [path, readFileSync(path)]);
    expect(await erasePatient(practice, ports, 'A-20417', async () => false)).toEqual({ kind: 'left' });
    expect(await erasePatient(practice, ports, 'C-1', yes)).toEqual({ kind: 'unknown' });
    expect(filesOf(practice).map((path) => [path, readFileSync(path)])).toEqual(before);
  });

  it.each([0, 1, 3, 6, 10, 14, 18, 22])(
    'cut short after step %i, is ended by the next command',
    async (steps) => {
      const { practice, pictures } = await twoPatients(ports);
      const onFile = await readOnFile(practice);
      const patient = onFile.book.patients[0];
      if (!patient) throw new Error('nobody on file');
      const plan = await planErasure(practice, ports, onFile, patient, 'RECEIPT001');
      await beginErasure(practice, plan);
      await cutShort(practice, plan, steps);
      expect(existsSync(practice.paths.erasing)).toBe(true);
      await asOnlyWriter(practice, 'test', async () => undefined);
      expect(existsSync(practice.paths.erasing)).toBe(false);
      expectGone(practice, pictures);
      expect(readdirSync(practice.paths.records)).toContain('erased-RECEIPT001.txt');
      const isErased = await loadErased(practice);
      if (isErased.kind !== 'kept') throw new Error(isErased.kind);
      expect(
        [pictures.rowan, pictures.held, pictures.shared, pictures.other].map((one) =>
          isErased.value(sha256(one)),
        ),
      ).toEqual([true, true, false, false]);
    },
  );
});

/** Carries an erasure out until the clock, a file or a folder it needs fails it at one of its steps. */
async function cutShort(
  practice: Practice,
  plan: Parameters<typeof finishErasure>[2],
  steps: number,
): Promise<void> {
  let left = steps;
  const { paths } = practice;
  const breaking = new Proxy(paths, {
    get: (target, key: keyof typeof paths) => {
      if (key === 'lock') return target[key];
      if (left-- <= 0) throw new Error('killed');
      return target[key];
    },
  });
  await expect(finishErasure({ ...practice, paths: breaking }, ports, plan)).rejects.toThrow();
}

describe('a folder that may be of another patient', () => {
  it('is named and left: it shares a family name, a picture, or a name that is part of another', async () => {
    const { practice, pictures } = await twoPatients(ports);
    const folder = (name: string): string => join(practice.paths.inbox, name);
    const strangers = [await noise(71), await noise(72), await noise(73)] as const;
    await intake(practice, await writeVisit(folder('Rowan Example'), { 's.jpg': strangers[0] }), ports);
    const mixed = { 'm.jpg': strangers[1], 'r.jpg': pictures.rowan };
    const sidecar = sidecarOf('patient: {chart: C-3, names: [Kim Sample]}', ['m.jpg', 'r.jpg']);
    await intake(practice, await writeVisit(folder('mixed'), { ...mixed, 'visit.yaml': sidecar }), ports);
    await intake(practice, await writeVisit(folder('unnamed'), { 'u.jpg': strangers[2] }), ports);
    const done = await erasePatient(practice, ports, 'A-20417', yes);
    if (done.kind !== 'erased') throw new Error(done.kind);
    expect(done.plan.doubtful.sort()).toEqual(['Rowan Example', 'mixed']);
    expect(done.plan.inbox).toEqual(['Testcase Rowan', 'rowan testcase 2']);
    const stored = new Set(readdirSync(practice.paths.originals).map((name) => name.split('.')[0]));
    expect(strangers.every((picture) => stored.has(sha256(picture)))).toBe(true);
    for (const picture of [pictures.rowan, pictures.held]) {
      expect(findIn(practice, picture)).toEqual([]);
      expect(findIn(practice, sha256(picture))).toEqual([]);
    }
  });
});

describe('a folder of an erased patient', () => {
  it('is not taken in again, by intake or draft, and nothing of it is stored or written down', async () => {
    const { practice, pictures, visit } = await twoPatients(ports);
    await erasePatient(practice, ports, 'A-20417', yes);
    const before = filesOf(practice);
    const [again] = await intake(practice, visit, ports);
    expect(again).toMatchObject({ status: 'held', case: null, reason: { code: 'erased' } });
    await expect(
      makeDraft(practice, join(practice.paths.inbox, 'rowan testcase 2'), ports),
    ).rejects.toMatchObject({
      reason: { code: 'erased' },
    });
    // Not under another name either, nor when only one picture of it is there.
    const renamed = await writeVisit(join(practice.paths.inbox, 'new'), {
      'n.jpg': pictures.rowan,
      'visit.yaml': sidecarOf('patient: {chart: Z-9}', ['n.jpg']),
    });
    expect((await intake(practice, renamed, ports))[0]?.reason?.code).toBe('erased');
    expect(filesOf(practice)).toEqual(before);
    expectGone(practice, pictures);
  });

  it('shows in the marks by nothing but itself', async () => {
    const { practice, pictures } = await twoPatients(ports);
    await erasePatient(practice, ports, 'A-20417', yes);
    const marks = JSON.parse(readFileSync(practice.paths.erased, 'utf8')) as { marks: string[] };
    expect(marks.marks).toHaveLength(2);
    expect(marks.marks.every((mark) => /^[0-9a-f]{64}$/.test(mark))).toBe(true);
    const plain = [pictures.rowan, pictures.held].flatMap((one) => [
      sha256(one),
      sha256(Buffer.from(sha256(one))),
      sha256(Buffer.from(`erased original ${sha256(one)}`)),
    ]);
    expect(plain.filter((hash) => marks.marks.includes(hash))).toEqual([]);
  });

  it("does not keep another patient's folder out that has a picture in common", async () => {
    const { practice, pictures } = await twoPatients(ports);
    await erasePatient(practice, ports, 'A-20417', yes);
    const [again] = await intake(practice, join(practice.paths.inbox, 'room 2'), ports);
    expect(again?.status).toBe('duplicate');
    const stored = await storeOriginal(practice, pictures.shared, sha256(pictures.shared), 'jpg');
    expect(stored.kind).toBe('kept');
  });
});

describe('erasing in a protected practice', () => {
  it('leaves nothing, also among what is encrypted, and encrypts the receipt', async () => {
    const { practice, pictures } = await twoPatients(ports);
    const key = join(await freshFolder(), 'key');
    const open = await protect(practice, { how: 'key-file', path: key });
    const count = readdirSync(open.paths.originals).length;
    const done = await erasePatient(open, ports, 'A-20417', yes);
    if (done.kind !== 'erased') throw new Error(done.kind);
    expect(done.paper).toMatch(/\.txt\.age$/);
    expect(readdirSync(open.paths.originals)).toHaveLength(count - 2);
    expectGone(open, pictures);
    await protectedToClear(open);
    expectGone(open, pictures);
  });
});

/** Decrypted again, so that a search of all bytes sees what the encryption hid. */
async function protectedToClear(practice: Practice): Promise<void> {
  const { unprotect } = await import('../../../src/practice/index.js');
  expect((await unprotect(practice, () => undefined)).kind).toBe('kept');
}
