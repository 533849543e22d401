import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listHeldItems } from '../../src/app/held.js';
import { exitOfReport, type VisitReport } from '../../src/app/report.js';
import type { Practice } from '../../src/practice/index.js';
import {
  freshFolder,
  freshPractice,
  intake,
  noise,
  testPorts,
  type VisitFiles,
  writeVisit,
} from './small-practice.js';

const ports = testPorts();
const ROWAN = 'patient: {chart: A-1, names: [Rowan Testcase]}';
const [A, B, C] = [await noise(301), await noise(302), await noise(303)];

/** One document of a sidecar. */
const says = (head: string[], files: string[], more = ''): string =>
  [
    ...head,
    ...(files.length === 0 ? ['images: []'] : ['images:']),
    ...files.map((file) => `  - {file: ${file}, stage: orifices, view: microscope${more}}`),
    '',
  ].join('\n');

async function drop(practice: Practice, files: VisitFiles): Promise<VisitReport[]> {
  return intake(practice, await writeVisit(join(await freshFolder(), 'v'), files), ports);
}

const recordOf = async (practice: Practice, code: string | null | undefined) =>
  JSON.parse(await readFile(join(practice.paths.cases, String(code), 'case.json'), 'utf8'));

describe('a later visit and a corrected one are told apart', () => {
  it('two visits without a date, with pictures of their own, are two visits', async () => {
    const practice = await freshPractice();
    const head = [ROWAN, 'tooth: {fdi: 46}'];
    await drop(practice, { 'a.jpg': A, 'visit.yaml': says(head, ['a.jpg']) });
    const [second] = await drop(practice, { 'b.jpg': B, 'visit.yaml': says(head, ['b.jpg']) });
    expect(second?.status).toBe('done');
    const { courses, pictures } = await recordOf(practice, second?.case);
    expect(courses[0].visits).toHaveLength(2);
    expect(pictures).toHaveLength(2);
  });

  it('a corrected date of two teeth revises both visits', async () => {
    const practice = await freshPractice();
    const both = (day: string): VisitFiles => ({
      'a.jpg': A,
      'b.jpg': B,
      'visit.yaml': `${says([ROWAN, `visit: {date: ${day}}`, 'tooth: {fdi: 46}'], ['a.jpg'])}---\n${says(['tooth: {fdi: 47}'], ['b.jpg'])}`,
    });
    await drop(practice, both('2026-02-11'));
    const reports = await drop(practice, both('2026-02-12'));
    expect(reports.map(({ status, revision }) => [status, revision])).toEqual([
      ['revised', 2],
      ['revised', 2],
    ]);
  });

  it('a second visit that shows one earlier picture again leaves the first as it was', async () => {
    const practice = await freshPractice();
    const on = (day: string) => [ROWAN, `visit: {date: ${day}}`, 'tooth: {fdi: 46}'];
    await drop(practice, {
      'a.jpg': A,
      'b.jpg': B,
      'visit.yaml': says(on('2026-02-11'), ['a.jpg', 'b.jpg']),
    });
    const [second] = await drop(practice, { 'a.jpg': A, 'visit.yaml': says(on('2026-02-25'), ['a.jpg']) });
    expect(second?.status).toBe('done');
    const { courses, pictures } = await recordOf(practice, second?.case);
    expect(courses[0].visits.map(({ day }: { day: number }) => day)).toEqual([0, 14]);
    expect(pictures).toHaveLength(2);
  });

  it('two strangers of whom nothing is known, not even a picture, get a case each', async () => {
    const practice = await freshPractice();
    const said = (length: number): string =>
      says(['tooth: {fdi: 46}', `canals: [{canal: MB, length: ${length}}]`], []);
    const [one] = await drop(practice, { 'visit.yaml': said(20.5) });
    const [other] = await drop(practice, { 'visit.yaml': said(18) });
    expect(other?.case).not.toBe(one?.case);
    expect((await recordOf(practice, one?.case)).courses[0].canals[0].length).toBe(20.5);
  });
});

describe('a picture that a revision no longer shows', () => {
  const on = [ROWAN, 'visit: {date: 2026-02-11}', 'tooth: {fdi: 46}'];

  it('is told and kept with its number when another picture has taken its name', async () => {
    const practice = await freshPractice();
    await drop(practice, { 'a.jpg': A, 'visit.yaml': says(on, ['a.jpg']) });
    const [second] = await drop(practice, { 'a.jpg': B, 'visit.yaml': says(on, ['a.jpg']) });
    expect(second?.pictures.map(({ status, reason }) => [status, reason?.code])).toEqual([
      ['kept', undefined],
      ['unlabelled', 'replaced'],
    ]);
    expect(second?.pictures[0]?.image).toMatch(/02-orifices/);
    const [again] = await drop(practice, { 'a.jpg': B, 'visit.yaml': says(on, ['a.jpg']) });
    expect(again?.status).toBe('duplicate');
    const [both] = await drop(practice, {
      'a.jpg': A,
      'b.jpg': B,
      'visit.yaml': says(on, ['a.jpg', 'b.jpg']),
    });
    expect(both?.pictures.map(({ status, image }) => [status, image?.split('/').at(-1)])).toEqual([
      ['kept', '01-orifices.jpg'],
      ['kept', '02-orifices.jpg'],
    ]);
  });

  it("is told when its line is gone from a second tooth's document that is dropped alone", async () => {
    const practice = await freshPractice();
    const said = (second: string[]): string =>
      `${says(on, ['a.jpg'])}---\n${says(['tooth: {fdi: 47}'], second)}`;
    await drop(practice, { 'a.jpg': A, 'b.jpg': B, 'c.jpg': C, 'visit.yaml': said(['b.jpg', 'c.jpg']) });
    const [, second] = await drop(practice, { 'visit.yaml': said(['b.jpg']) });
    expect(second?.pictures.map(({ source, status }) => [source, status])).toEqual([
      ['b.jpg', 'kept'],
      ['c.jpg', 'unlabelled'],
    ]);
  });
});

describe('a held visit', () => {
  it('stays on the list when a folder of the same name brings another visit', async () => {
    const practice = await freshPractice();
    const folder = join(await freshFolder(), 'room 2');
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml': says([ROWAN, 'tooth: {fdi: 49}'], ['a.jpg']) });
    await intake(practice, folder, ports);
    const other = 'patient: {chart: B-2, names: [Juniper Sample]}';
    await writeVisit(folder, { 'b.jpg': B, 'visit.yaml': says([other, 'tooth: {fdi: 46}'], ['b.jpg']) });
    expect((await intake(practice, folder, ports))[0]?.status).toBe('done');
    expect(
      (await listHeldItems(practice)).some(({ what, visit }) => what === 'visit' && visit === 'room 2'),
    ).toBe(true);
    await writeVisit(folder, { 'a.jpg': A, 'visit.yaml': says([ROWAN, 'tooth: {fdi: 46}'], ['a.jpg']) });
    await intake(practice, folder, ports);
    expect((await listHeldItems(practice)).filter(({ what }) => what === 'visit')).toEqual([]);
  });
});

describe('what an earlier visit told', () => {
  it("holds a caption with the patient's name when the later sidecar gives the chart number alone", async () => {
    const practice = await freshPractice();
    const head = (patient: string, day: string) => [patient, `visit: {date: ${day}}`, 'tooth: {fdi: 46}'];
    await drop(practice, { 'a.jpg': A, 'visit.yaml': says(head(ROWAN, '2026-02-11'), ['a.jpg']) });
    const [second] = await drop(practice, {
      'b.jpg': B,
      'visit.yaml': says(
        head('patient: {chart: A-1}', '2026-02-25'),
        ['b.jpg'],
        ', caption: Floor as Rowan saw it',
      ),
    });
    expect(second?.errors).toHaveLength(1);
    expect(JSON.stringify(await recordOf(practice, second?.case))).not.toContain('Rowan');
  });

  it('leaves an earlier caption out once a later sidecar brings the name it holds, and says so', async () => {
    const practice = await freshPractice();
    const head = (patient: string, day: string) => [patient, `visit: {date: ${day}}`, 'tooth: {fdi: 46}'];
    const first = says(
      head('patient: {chart: A-1}', '2026-02-11'),
      ['a.jpg'],
      ', caption: Floor as Rowan saw it',
    );
    await drop(practice, { 'a.jpg': A, 'visit.yaml': first });
    const [second] = await drop(practice, {
      'b.jpg': B,
      'visit.yaml': says(head(ROWAN, '2026-02-25'), ['b.jpg']),
    });
    expect(JSON.stringify(await recordOf(practice, second?.case))).not.toContain('Rowan');
    expect(second?.findings.map(({ code }) => code)).toContain('text-left-out');
  });

  it('never files one person under the chart number of another, whatever is answered', async () => {
    const practice = await freshPractice();
    const answer = 'answers: [{code: other-patient, by: AB, why: the clock is wrong}]';
    const head = (patient: string) => [patient, 'visit: {date: 2026-02-11}', 'tooth: {fdi: 46}', answer];
    await drop(practice, { 'a.jpg': A, 'visit.yaml': says(head(ROWAN), ['a.jpg']) });
    const stranger = says(head('patient: {chart: A-1, names: [Juniper Sample]}'), ['b.jpg']);
    const [held] = await drop(practice, { 'b.jpg': B, 'visit.yaml': stranger });
    expect(held).toMatchObject({ status: 'held', case: null, reason: { code: 'other-patient' } });
    const renamed = says(head('patient: {chart: A-1, names: [Juniper Sample, Rowan Testcase]}'), ['b.jpg']);
    const [done] = await drop(practice, { 'b.jpg': B, 'visit.yaml': renamed });
    expect(done?.status).toBe('revised');
  });

  it('says of a new mistake in a sidecar, though neither the old nor the new entry counts', async () => {
    const practice = await freshPractice();
    const said = (stage: string): VisitFiles => ({
      'a.jpg': A,
      'c.jpg': C,
      'visit.yaml': `${says([ROWAN, 'visit: {date: 2026-02-11}', 'tooth: {fdi: 46}'], ['a.jpg'])}  - {file: c.jpg, stage: ${stage}, view: microscope}\n`,
    });
    await drop(practice, said('acess'));
    const [again] = await drop(practice, said('obturaton'));
    expect(again?.errors).toHaveLength(1);
    expect(again && exitOfReport(again)).toBe(3);
  });
});
