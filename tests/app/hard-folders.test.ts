import { readFile, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeDraft } from '../../src/app/draft/index.js';
import { listHeldItems } from '../../src/app/held.js';
import { intakeVisit } from '../../src/app/intake/index.js';
import { wrongVisitFolders } from '../../src/app/intake/visit-folders.js';
import type { VisitReport } from '../../src/app/report.js';
import { sentenceOf } from '../../src/core/reason-sentence.js';
import {
  freshFolder,
  freshPractice,
  intake,
  noise,
  reopen,
  testPorts,
  writeVisit,
} from './small-practice.js';

const ports = testPorts();
const A = await noise(201, '2026:02:11 09:00:00');
const B = await noise(202, '2026:02:11 09:05:00');

const sidecar = (images: string[], tooth = '{fdi: 46}', chart = 'A-1'): string =>
  [
    `patient: {chart: ${chart}, names: [Rowan Testcase]}`,
    'visit: {date: 2026-02-11, state: interim}',
    `tooth: ${tooth}`,
    'images:',
    ...images.map((image) => `  - ${image}`),
    '',
  ].join('\n');
const FLOOR = '{file: a.jpg, stage: orifices, view: microscope}';
const ACCESS = '{file: b.jpg, stage: access, view: microscope}';

const only = (reports: VisitReport[]): VisitReport => {
  expect(reports).toHaveLength(1);
  return reports[0] as VisitReport;
};

describe('a sidecar that is not simply there', () => {
  it('is not chosen when visit.yaml and visit.yml differ, and is read when they are equal', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    const files = { 'a.jpg': A, 'visit.yaml': sidecar([FLOOR]) };
    await writeVisit(folder, { ...files, 'visit.yml': sidecar([FLOOR], '{fdi: 47}') });
    const held = only(await intake(practice, folder, ports));
    expect([held.status, held.reason?.code, held.case]).toEqual(['held', 'two-sidecars', null]);
    expect(held.pictures.map(({ source }) => source)).toEqual(['a.jpg']);
    await writeVisit(folder, { ...files, 'visit.yml': sidecar([FLOOR]) });
    expect(only(await intake(practice, folder, ports)).status).toBe('done');
    expect(await listHeldItems(practice)).toEqual([]);
  });

  it('is said to be empty, a link, or under another name, and is no picture', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    const seen: (string | undefined)[] = [];
    const note = async () => {
      const { status, reason, pictures } = only(await intake(practice, folder, ports));
      expect([status, pictures.filter(({ source }) => source === 'visit.yaml')]).toEqual(['held', []]);
      seen.push(reason?.sentence);
    };
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml': '' });
    await note();
    await writeVisit(folder, { 'a.jpg': A });
    await symlink('/etc/hostname', join(folder, 'visit.yaml'));
    await note();
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml.txt': sidecar([FLOOR]) });
    await note();
    await writeVisit(folder, {});
    await note();
    expect(seen).toEqual([
      expect.stringContaining('visit.yaml is empty'),
      expect.stringContaining('a link'),
      expect.stringContaining('Rename it to visit.yaml'),
      expect.stringContaining('The folder is empty'),
    ]);
  });
});

describe('what is held', () => {
  it('stays for each of two folders of one name, and is settled when its pictures come in under another', async () => {
    const practice = await freshPractice();
    const [one, other] = [join(await freshFolder(), 'room 2'), join(await freshFolder(), 'room 2')];
    await writeVisit(one, { 'a.jpg': A });
    await writeVisit(other, { 'b.jpg': B });
    await intake(practice, one, ports);
    await intake(practice, other, ports);
    expect((await listHeldItems(practice)).map(({ visit }) => visit)).toEqual(['room 2', 'room 2']);
    const renamed = join(await freshFolder(), 'room 2, labelled');
    await writeVisit(renamed, { 'a.jpg': A, 'visit.yaml': sidecar([FLOOR]) });
    expect(only(await intake(practice, renamed, ports)).status).toBe('done');
    expect((await listHeldItems(practice)).map(({ visit }) => visit)).toEqual(['room 2']);
  });

  it('names no pictures where there are none to name', () => {
    const sentence = sentenceOf({ code: 'other-patient', because: 'chart-of-another', pictures: [] });
    expect(sentence).not.toContain('()');
  });
});

describe('watch', () => {
  const watchful = { write: true, waits: true };

  it('does not wait for a line about a copy of a listed picture', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    await writeVisit(folder, { 'a.jpg': A, 'a (2).jpg': A, 'visit.yaml': sidecar([FLOOR]) });
    const report = only(await intakeVisit(practice, folder, ports, watchful));
    expect(report.status).toBe('done');
    expect(report.pictures.map(({ status }) => status)).toEqual(['kept', 'duplicate']);
  });

  it('does not wait for a line about a picture that an earlier revision listed and that is on file only', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    await writeVisit(folder, { 'a.jpg': A, 'b.jpg': B, 'visit.yaml': sidecar([FLOOR, ACCESS]) });
    await intake(practice, folder, ports);
    await writeVisit(folder, { 'visit.yaml': sidecar([FLOOR]) });
    const report = only(await intakeVisit(practice, folder, ports, watchful));
    expect([report.status, report.revision]).toEqual(['revised', 2]);
  });

  it.each([
    ['cut short', Buffer.from(A.subarray(0, A.length >> 1))],
    ['full length without content', Buffer.alloc(A.length)],
  ])('waits for a listed picture that is %s, and holds it when patience is over', async (_, bytes) => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    await writeVisit(folder, { 'a.jpg': bytes, 'b.jpg': B, 'visit.yaml': sidecar([FLOOR, ACCESS]) });
    const waiting = only(await intakeVisit(practice, folder, ports, watchful));
    expect([waiting.status, waiting.case]).toEqual(['waiting', null]);
    expect(waiting.waitingFor).toContain('a.jpg');
    const held = only(await intakeVisit(practice, folder, ports, { write: true, waits: false }));
    expect(held.pictures.map(({ status }) => status)).toEqual(['held', 'kept']);
  });
});

describe('a camera that is declared as correcting its mirror views later on', () => {
  it('has its pictures made anew, once', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'v');
    const mirrored = '{file: a.jpg, stage: orifices, view: microscope, mirror: true}';
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml': sidecar([mirrored]) });
    const first = only(await intake(practice, folder, ports));
    const image = join(practice.root, first.pictures[0]?.image as string);
    const flipped = await readFile(image);
    await writeFile(
      join(practice.root, 'practice.yaml'),
      'sources: [{source: Drawn Scope, corrected: true}]\n',
    );
    const declared = await reopen(practice.root);
    const second = only(await intake(declared, folder, ports));
    expect([second.status, second.revision]).toEqual(['revised', 2]);
    expect(await readFile(image)).not.toEqual(flipped);
    expect(only(await intake(declared, folder, ports)).status).toBe('duplicate');
  });
});

describe('a folder that is named as a visit and is none', () => {
  it('is told before anything is touched: not there, a file, the inbox, a practice, its own files', async () => {
    const practice = await freshPractice();
    const visit = await writeVisit(join(practice.paths.inbox, 'v'), { 'a.jpg': A });
    const { root, paths } = practice;
    const named = [visit, join(root, 'gone'), join(visit, 'a.jpg'), paths.inbox, root, paths.originals, ''];
    const wrong = await wrongVisitFolders(practice, named);
    expect(wrong).toEqual([
      expect.stringContaining('There is no folder'),
      expect.stringContaining('is a file'),
      expect.stringContaining('is the inbox itself'),
      expect.stringContaining('is a practice folder'),
      expect.stringContaining('private'),
      expect.stringContaining('There is no folder'),
    ]);
    expect(await wrongVisitFolders(practice, [visit])).toEqual([]);
  });

  it('may lie in the inbox of another practice', async () => {
    const practice = await freshPractice();
    const other = await freshPractice();
    const visit = await writeVisit(join(other.paths.inbox, 'v'), { 'a.jpg': A });
    expect(await wrongVisitFolders(practice, [visit])).toEqual([]);
  });
});

describe('a draft', () => {
  it('leaves open what no picture says: tooth, state and kind of treatment', async () => {
    const practice = await freshPractice();
    const folder = await writeVisit(join(await freshFolder(), 'v'), { 'a.jpg': A });
    const { sidecar: path } = await makeDraft(practice, folder, ports);
    const text = await readFile(path, 'utf8');
    expect(text).toContain('date: 2026-02-11');
    expect(text).toMatch(/^ {2}state: +#/m);
    expect(text).toMatch(/^ {2}kind: +#/m);
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml': text.replace(/^tooth: /m, 'tooth: {fdi: 46} ') });
    const report = only(await intake(practice, folder, ports));
    expect([report.status, report.errors]).toEqual(['done', []]);
  });
});
