import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import type { VisitReport } from '../../src/app/report.js';
import { runHere } from '../cli/run-here.js';
import { freshFolder, noise, writeVisit } from './small-practice.js';

const CLI = new URL('../../bin/scopeleaf.js', import.meta.url).pathname;

const filesIn = (folder: string): string[] =>
  existsSync(folder)
    ? readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name))
    : [];

/** Moments of an intake, told by what lies on the disk. */
const MOMENTS: Record<string, (root: string) => boolean> = {
  'the first original is stored': (root) => filesIn(join(root, 'private', 'originals')).length > 0,
  'a display picture waits': (root) => filesIn(join(root, 'private', 'tmp')).length > 0,
  'the journal gave a code': (root) => journalOf(root).includes('begun'),
  'the first picture is in its case': (root) => filesIn(join(root, 'cases')).length > 0,
  'the sidecar is accepted': (root) =>
    filesIn(join(root, 'private', 'visits')).some((file) => file.endsWith('visit.yaml')),
  'the visit counts': (root) => existsSync(join(root, 'private', 'patients')),
  'the record is written': (root) => filesIn(join(root, 'cases')).some((file) => file.endsWith('case.json')),
};

const journalOf = (root: string): string =>
  existsSync(join(root, 'private', 'journal')) ? readFileSync(join(root, 'private', 'journal'), 'utf8') : '';

async function killWhen(moment: (root: string) => boolean, root: string, visit: string): Promise<void> {
  const child = spawn(process.execPath, [CLI, 'intake', visit, '-p', root], { stdio: 'ignore' });
  const ended = new Promise((resolve) => child.on('exit', resolve));
  let isOver = false;
  void ended.then(() => {
    isOver = true;
  });
  while (!isOver && !moment(root)) await sleep(1);
  child.kill('SIGKILL');
  await ended;
}

const WITHOUT_CHART = 'patient: {names: [Rowan Testcase]}';
const WITH_CHART = 'patient: {chart: A-1, names: [Rowan Testcase]}';

async function visitOf(patient: string): Promise<{ root: string; visit: string }> {
  const root = join(await freshFolder(), 'practice');
  await runHere(['init', root]);
  const files: Record<string, string | Uint8Array> = {};
  const lines = [patient, 'visit: {date: 2026-02-11, state: interim}', 'tooth: {fdi: 46}', 'images:'];
  for (let at = 0; at < 4; at += 1) {
    files[`${at}.jpg`] = await noise(40 + at);
    lines.push(`  - {file: ${at}.jpg, stage: orifices, view: microscope}`);
  }
  files['visit.yaml'] = `${lines.join('\n')}\n`;
  return { root, visit: await writeVisit(join(root, 'inbox', 'a'), files) };
}

describe('a run killed at any moment', () => {
  it.each(Object.keys(MOMENTS))('loses nothing and doubles nothing: when %s', async (moment) => {
    const { root, visit } = await visitOf(moment.length % 2 === 0 ? WITH_CHART : WITHOUT_CHART);
    await killWhen(MOMENTS[moment] as (root: string) => boolean, root, visit);
    const again = await runHere(['intake', visit, '-p', root, '--json']);
    expect(again.exit, again.stderr).toBe(0);
    const report = JSON.parse(again.stdout) as VisitReport;
    expect(['done', 'duplicate']).toContain(report.status);
    expect(readdirSync(join(root, 'cases'))).toEqual([report.case]);
    const inCase = filesIn(join(root, 'cases', report.case as string)).map((file) => file.split('/').at(-1));
    expect(inCase.sort()).toEqual([
      '01-orifices.jpg',
      '02-orifices.jpg',
      '03-orifices.jpg',
      '04-orifices.jpg',
      'case.json',
      'referrer.json',
      'referrer.pdf',
    ]);
    expect(filesIn(join(root, 'private', 'originals'))).toHaveLength(4);
    expect(readdirSync(join(root, 'private', 'visits'))).toHaveLength(1);
    expect(filesIn(root).filter((file) => /\.tmp$/.test(file))).toEqual([]);
    const third = JSON.parse((await runHere(['intake', visit, '-p', root, '--json'])).stdout) as VisitReport;
    expect(third).toMatchObject({ status: 'duplicate', case: report.case, revision: 1 });
  });
});
