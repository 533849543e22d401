import { access, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { portsFor } from '../../src/app/open-pictures.js';
import type { Ports } from '../../src/app/ports.js';
import type { VisitReport } from '../../src/app/report.js';
import { held, kept } from '../../src/core/outcome.js';
import type { FoundText } from '../../src/finders/finder.js';
import type { Practice } from '../../src/practice/index.js';
import { keyFile, protect } from '../practice/protection/protected.js';
import {
  freshFolder,
  freshPractice,
  intake,
  noise,
  reopen,
  testPorts,
  writeVisit,
} from './small-practice.js';

const real = testPorts();
const A = await noise(411);

/** A finder that sees these texts in every picture. */
function seeing(texts: FoundText[]): Ports {
  const search: Ports['workers']['search'] = async () =>
    kept({ texts, faces: [], widthPx: 48, heightPx: 48 });
  return { ...real, workers: { ...real.workers, search } };
}

const VISIT = [
  'patient: {chart: A-1, names: [Rowan Testcase], born: 1984-06-02}',
  'visit: {date: 2026-02-11}',
  'tooth: {fdi: 46}',
  'images:',
  '  - {file: a.jpg, stage: orifices, view: microscope}',
  '',
].join('\n');

async function drop(practice: Practice, ports: Ports, sidecar = VISIT): Promise<VisitReport[]> {
  const folder = await writeVisit(join(await freshFolder(), 'v'), { 'a.jpg': A, 'visit.yaml': sidecar });
  return intake(practice, folder, ports);
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

describe('one picture that shows two teeth', () => {
  it('stands in both cases, without covers too', async () => {
    const practice = await freshPractice();
    const second = VISIT.replace('{fdi: 46}', '{fdi: 47}');
    const reports = await drop(practice, seeing([]), `${VISIT}---\n${second}`);
    expect(reports.map(({ status }) => status)).toEqual(['done', 'done']);
    for (const { pictures } of reports) {
      expect(pictures.map(({ status }) => status)).toEqual(['kept']);
      expect(await isThere(join(practice.root, String(pictures[0]?.image)))).toBe(true);
    }
  });
});

describe('the same folder dropped again', () => {
  it('is searched again when the search did not end, as its reason says', async () => {
    const practice = await freshPractice();
    const broken: Ports['workers']['search'] = async () => held({ code: 'not-searched', what: 'text' });
    const [first] = await drop(practice, { ...real, workers: { ...real.workers, search: broken } });
    expect(first?.pictures[0]).toMatchObject({ status: 'held', reason: { code: 'not-searched' } });
    const [again] = await drop(practice, seeing([]));
    expect(again?.pictures[0]).toMatchObject({ status: 'kept' });
  });

  it('is covered in the zone that practice.yaml names since, and uncovered when it names it no more', async () => {
    const practice = await freshPractice();
    await drop(practice, seeing([]));
    const settings = await readFile(practice.paths.settingsFile, 'utf8');
    const zone = 'coverAlways: [{source: Drawn Scope, box: [0, 40, 60, 20]}]';
    await writeFile(practice.paths.settingsFile, settings.replace(/^coverAlways:.*$/m, zone));
    const zoned = await reopen(practice.root);
    const [covered] = await drop(zoned, seeing([]));
    expect(covered).toMatchObject({ status: 'revised', pictures: [{ covered: 1 }] });
    const [same] = await drop(zoned, seeing([]));
    expect(same?.status).toBe('duplicate');
    await writeFile(practice.paths.settingsFile, settings);
    const [bare] = await drop(await reopen(practice.root), seeing([]));
    expect(bare).toMatchObject({ status: 'revised', pictures: [{ covered: 0 }] });
  });
});

describe('a draft sheet', () => {
  it('goes when the search finds another patient in a picture', async () => {
    const practice = await freshPractice();
    const stranger: FoundText = {
      box: [2, 2, 40, 10],
      text: 'Patient: Wilder, Hazel',
      confidence: 0.98,
      score: 0.95,
      by: 'net',
    };
    let drafts: string[] = [];
    const ports = seeing([stranger]);
    const { search } = ports.workers;
    ports.workers.search = async (job) => {
      drafts = await readdir(join(practice.paths.drafts, 'v'));
      return search(job);
    };
    const [report] = await drop(practice, ports);
    expect(drafts).toEqual(['not-yet-searched.pdf']);
    expect(report).toMatchObject({ status: 'held', reason: { code: 'other-patient' } });
    expect(await isThere(join(practice.paths.drafts, 'v', 'not-yet-searched.pdf'))).toBe(false);
  });
});

describe('a practice that encrypts its pictures', () => {
  it('draws no draft, and its cache holds nothing of a picture that is not covered', async () => {
    const wish = { how: 'key-file' as const, path: keyFile() };
    const practice = await protect(await freshPractice(), wish, true);
    const ports = portsFor(practice, seeing([]));
    const { search } = ports.workers;
    const seen: string[][] = [];
    ports.workers.search = async (job) => {
      seen.push(await readdir(practice.paths.drafts), await readdir(practice.paths.cache));
      return search(job);
    };
    const [report] = await drop(practice, ports);
    expect(report).toMatchObject({ status: 'done' });
    expect(seen).toEqual([[], []]);
  });
});
