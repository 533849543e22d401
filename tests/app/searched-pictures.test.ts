import { access, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { listHeldItems } from '../../src/app/held.js';
import { checkVisits } from '../../src/app/intake/several.js';
import type { Ports } from '../../src/app/ports.js';
import type { VisitReport } from '../../src/app/report.js';
import { drawCaseSheet } from '../../src/app/sheet/index.js';
import { held, kept } from '../../src/core/outcome.js';
import type { FoundBox, FoundText } from '../../src/finders/finder.js';
import type { Practice } from '../../src/practice/index.js';
import type { Searched } from '../../src/workers/index.js';
import { radiograph } from '../formats/dicom/copy/drawn-objects.js';
import { fileOf } from '../formats/dicom/copy/source-object.js';
import {
  changedKinds,
  freshFolder,
  freshPractice,
  intake,
  noise,
  reopen,
  snapshot,
  testPorts,
  writeVisit,
} from './small-practice.js';

const real = testPorts();
const [A, B] = [await noise(401), await noise(402)];

const text = (box: FoundBox, words: string, more: Partial<FoundText> = {}): FoundText => ({
  box,
  text: words,
  confidence: 0.98,
  score: 0.95,
  by: 'net',
  ...more,
});

/** A finder that sees the same in every picture, and counts how often it was asked. */
function seeing(found: Partial<Searched>): { ports: Ports; asked: () => number } {
  let count = 0;
  const search: Ports['workers']['search'] = async () => {
    count += 1;
    return kept({ texts: [], faces: [], widthPx: 48, heightPx: 48, ...found });
  };
  return { ports: { ...real, workers: { ...real.workers, search } }, asked: () => count };
}

const sidecar = (image: string, more: string[] = []): string =>
  [
    'patient: {chart: A-1, names: [Rowan Testcase], born: 1984-06-02}',
    'visit: {date: 2026-02-11}',
    'tooth: {fdi: 46}',
    ...more,
    'images:',
    `  - {file: a.jpg, stage: orifices, view: microscope${image}}`,
    '',
  ].join('\n');

async function drop(practice: Practice, ports: Ports, image = '', more: string[] = []): Promise<VisitReport> {
  const files = { 'a.jpg': A, 'visit.yaml': sidecar(image, more) };
  const [report] = await intake(practice, await writeVisit(join(await freshFolder(), 'v'), files), ports);
  return report as VisitReport;
}

/** Mean grey of a box of a case's picture, and how far its samples spread. */
async function boxOf(practice: Practice, image: string, [left, top, width, height]: FoundBox) {
  const cut = sharp(join(practice.root, image)).extract({ left, top, width, height }).greyscale();
  const samples = [...(await cut.raw().toBuffer())];
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  return {
    mean,
    spread: Math.sqrt(samples.reduce((sum, value) => sum + (value - mean) ** 2, 0) / samples.length),
  };
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

const NAME = text([8, 8, 24, 8], 'TESTCASE ROWAN');

describe('a picture with burned-in text', () => {
  it('is covered with a solid box, and the record and the report say so', async () => {
    const practice = await freshPractice();
    const report = await drop(practice, seeing({ texts: [NAME] }).ports);
    expect(report.pictures[0]).toMatchObject({ status: 'kept', covered: 1, look: [] });
    // JPEG at quality 92 leaves a flat box nearly flat; noise has a spread of about 70.
    const inside = await boxOf(practice, String(report.pictures[0]?.image), [10, 10, 20, 4]);
    expect(inside.spread).toBeLessThan(6);
    const record = JSON.parse(
      await readFile(join(practice.paths.cases, String(report.case), 'case.json'), 'utf8'),
    );
    expect(record.pictures[0].covered).toBe(1);
    const said = JSON.parse(
      await readFile(join(practice.paths.cases, String(report.case), 'sheets', 'referrer.json'), 'utf8'),
    );
    expect(JSON.stringify(said)).toContain('"covered":1');
  });

  it('is kept with a look when the finder was not sure', async () => {
    const practice = await freshPractice();
    const doubtful = text([8, 8, 24, 8], '', { confidence: 0, score: 0.5 });
    const report = await drop(practice, seeing({ texts: [doubtful] }).ports);
    expect(report.pictures[0]).toMatchObject({ status: 'kept', covered: 1 });
    expect(report.pictures[0]?.look).toHaveLength(1);
  });

  it('stays uncovered where a named person keeps it, after a corrected sidecar too', async () => {
    const practice = await freshPractice();
    const { ports, asked } = seeing({ texts: [text([8, 8, 24, 8], 'STUDIO')] });
    const first = await drop(practice, ports);
    expect(first.pictures[0]?.covered).toBe(1);
    const keep = ', keep: [{box: [6, 6, 30, 12], by: AB, why: no person}]';
    const second = await drop(practice, ports, keep);
    expect(second).toMatchObject({ status: 'revised' });
    expect(second.pictures[0]?.covered).toBe(0);
    const inside = await boxOf(practice, String(second.pictures[0]?.image), [10, 10, 20, 4]);
    expect(inside.spread).toBeGreaterThan(20);
    // The same bytes shown the same way: found once.
    expect(asked()).toBe(1);
  });

  it('is covered by hand, and in the corner that its device always prints in', async () => {
    const practice = await freshPractice();
    const settings = await readFile(practice.paths.settingsFile, 'utf8');
    await writeFile(
      practice.paths.settingsFile,
      settings.replace(/^coverAlways:.*$/m, 'coverAlways: [{source: Drawn Scope, box: [0, 40, 48, 8]}]'),
    );
    const opened = await reopen(practice.root);
    expect(opened.settings.coverAlways).toHaveLength(1);
    const cover = ', cover: [{box: [30, 2, 10, 10], by: AB, why: name}]';
    const report = await drop(opened, seeing({}).ports, cover);
    expect(report.pictures[0]?.covered).toBe(2);
    const image = String(report.pictures[0]?.image);
    expect((await boxOf(opened, image, [2, 42, 40, 4])).spread).toBeLessThan(6);
    expect((await boxOf(opened, image, [32, 4, 6, 6])).spread).toBeLessThan(6);
  });

  it('is held when its search does not end', async () => {
    const practice = await freshPractice();
    const search = async () => held({ code: 'worker-died', what: 'time' } as const);
    const report = await drop(practice, { ...real, workers: { ...real.workers, search } });
    expect(report.pictures[0]).toMatchObject({
      status: 'held',
      reason: { code: 'not-searched' },
      image: null,
    });
    expect(report.sheets).toEqual([]);
  });
});

describe('the right patient, by what stands in the pixels', () => {
  const other = [text([2, 2, 40, 6], 'PATIENT: MARLOW, JUNIPER'), text([2, 12, 40, 6], 'DOB 1991-09-17')];

  it('holds the whole visit when a picture shows another person, names the picture and no person', async () => {
    const practice = await freshPractice();
    const report = await drop(practice, seeing({ texts: other }).ports);
    expect(report).toMatchObject({ status: 'held', case: null, reason: { code: 'other-patient' } });
    expect(report.reason?.sentence).toContain('a.jpg');
    expect(JSON.stringify(report)).not.toMatch(/marlow|juniper|1991/i);
    expect(await readdir(practice.paths.cases)).toEqual([]);
    expect(await listHeldItems(practice)).toHaveLength(1);
  });

  it('is settled by a signed answer', async () => {
    const practice = await freshPractice();
    const answer = ['answers: [{code: other-patient, by: AB, why: the dentist is printed there}]'];
    const report = await drop(practice, seeing({ texts: other }).ports, '', answer);
    expect(report).toMatchObject({ status: 'done' });
    expect(report.pictures[0]?.covered).toBeGreaterThan(0);
  });
});

describe('a picture with a face', () => {
  const faces = [{ box: [4, 4, 30, 30] as FoundBox, score: 0.9 }];

  it('is held until a person answers', async () => {
    const practice = await freshPractice();
    const report = await drop(practice, seeing({ faces }).ports);
    expect(report.pictures[0]).toMatchObject({ status: 'held', reason: { code: 'face' }, image: null });
  });

  it('then serves the private record only: nothing of it stands outside private', async () => {
    const practice = await freshPractice();
    const answer = ['answers: [{code: face, by: AB, why: patient agreed to the record}]'];
    const report = await drop(practice, seeing({ faces }).ports, '', answer);
    expect(report.pictures[0]).toMatchObject({ status: 'kept', image: null });
    expect(await readdir(practice.paths.limited)).toHaveLength(1);
    const folder = join(practice.paths.cases, String(report.case));
    expect(await readdir(join(folder, 'images')).catch(() => [])).toEqual([]);
    expect(await readFile(join(folder, 'case.json'), 'utf8')).not.toContain('images/');
  });

  it('is drawn for the audience that the answer names, and for no other', async () => {
    const practice = await freshPractice();
    const template = await readFile(new URL('../../templates/referrer.yaml', import.meta.url), 'utf8');
    const lecture = template
      .replace(/^template: .*$/m, 'template: lecture')
      .replace(/^audience: .*$/m, 'audience: teaching');
    await writeFile(join(practice.paths.templates, 'lecture.yaml'), lecture);
    const answer = ['answers: [{code: face, file: a.jpg, by: AB, why: agreed, audience: [teaching]}]'];
    const report = await drop(practice, seeing({ faces }).ports, '', answer);
    const code = String(report.case);
    const figures = async (name: string) => {
      await drawCaseSheet(practice, real, code, { template: name });
      const file = join(practice.paths.cases, code, 'sheets', `${name}.json`);
      return JSON.parse(await readFile(file, 'utf8').catch(() => '{"figures":[]}'));
    };
    expect(JSON.stringify(await figures('lecture'))).toContain('orifices');
    expect(JSON.stringify(await figures('referrer'))).not.toContain('orifices');
  });
});

describe('while pictures are being searched', () => {
  it('a draft lies in private/drafts and nothing in cases; then the draft is gone', async () => {
    const practice = await freshPractice();
    const draft = join(practice.paths.drafts, 'v', 'not-yet-searched.pdf');
    const during: unknown[] = [];
    const search: Ports['workers']['search'] = async () => {
      during.push(await isThere(draft), await readdir(practice.paths.cases));
      return kept({ texts: [], faces: [], widthPx: 48, heightPx: 48 });
    };
    const report = await drop(practice, { ...real, workers: { ...real.workers, search } });
    expect(during).toEqual([true, []]);
    expect(report.sheets).toHaveLength(1);
    expect(await isThere(draft)).toBe(false);
  });

  it('check searches as well, and writes nothing', async () => {
    const practice = await freshPractice();
    const before = await snapshot(practice);
    const files = { 'a.jpg': B, 'visit.yaml': sidecar('') };
    const folder = await writeVisit(join(await freshFolder(), 'v'), files);
    const { ports } = seeing({ faces: [{ box: [4, 4, 30, 30], score: 0.9 }] });
    const [report] = await checkVisits(practice, [folder], ports);
    expect(report?.pictures[0]).toMatchObject({ status: 'held', reason: { code: 'face' } });
    expect(changedKinds(before, await snapshot(practice))).toEqual([]);
  });

  it('a lost cache costs a second search and nothing else', async () => {
    const practice = await freshPractice();
    const { ports, asked } = seeing({ texts: [NAME] });
    const first = await drop(practice, ports);
    await rm(practice.paths.cache, { recursive: true });
    const second = await drop(await reopen(practice.root), ports, ', caption: Orifices found');
    expect(asked()).toBe(2);
    expect(second.pictures[0]).toMatchObject({ covered: 1, image: first.pictures[0]?.image });
  });
});

describe('a DICOM copy that cannot be made', () => {
  it('costs neither the sheet nor the visit, and is told', async () => {
    const practice = await freshPractice();
    const settings = await readFile(practice.paths.settingsFile, 'utf8');
    await writeFile(practice.paths.settingsFile, settings.replace(/^dicomCopies:.*$/m, 'dicomCopies: true'));
    const opened = await reopen(practice.root);
    const answer = ['answers: [{code: other-patient, by: AB, why: drawn for this test}]'];
    const files = {
      'a.dcm': fileOf(radiograph()),
      'visit.yaml': sidecar('', answer).replace('a.jpg', 'a.dcm'),
    };
    const folder = await writeVisit(join(await freshFolder(), 'v'), files);
    const { ports } = seeing({});
    const copy: Ports['workers']['copy'] = async () => held({ code: 'worker-died', what: 'crash' });
    const [report] = await intake(opened, folder, { ...ports, workers: { ...ports.workers, copy } });
    expect(report).toMatchObject({ status: 'done', sheets: [expect.any(String)] });
    expect(report?.errors.map(({ field }) => field)).toEqual(['dicomCopies']);
  });
});
