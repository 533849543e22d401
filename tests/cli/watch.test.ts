import { spawn } from 'node:child_process';
import { copyFile, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import type { VisitReport } from '../../src/app/report.js';
import { freshFolder, noise, writeVisit } from '../app/small-practice.js';
import { scopeleaf } from './run-cli.js';

const CLI = new URL('../../bin/scopeleaf.js', import.meta.url).pathname;

const SIDECAR = `
patient: {chart: A-1, names: [Rowan Testcase]}
visit: {date: 2026-02-11, state: interim}
tooth: {fdi: 46}
images:
  - {file: a.jpg, stage: orifices, view: microscope}
  - {file: b.jpg, stage: access, view: microscope}
`.trimStart();

/** A watch at work: its reports as they come, its status lines, and how it ended. */
function startWatch(root: string) {
  const child = spawn(process.execPath, [CLI, 'watch', '-p', root, '--json'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (data) => {
    stdout += data;
  });
  child.stderr.on('data', (data) => {
    stderr += data;
  });
  const ended = new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
  return {
    reports: (): VisitReport[] =>
      stdout
        .split('\n')
        .filter(Boolean)
        .map((line) => JSON.parse(line) as VisitReport),
    said: (): string => stderr,
    stop: (): Promise<number | null> => {
      child.kill('SIGINT');
      return ended;
    },
  };
}

/** Looks again and again until it holds; the test's own time limit ends a wait for what never comes. */
async function until(holds: () => boolean): Promise<void> {
  while (!holds()) await pause(50);
}

describe('watch', () => {
  it('takes in a visit that is copied while it runs, a late picture as a revision, and ends with Ctrl-C', async () => {
    const root = join(await freshFolder(), 'practice');
    await scopeleaf(['init', root]);
    await writeFile(join(root, 'practice.yaml'), 'quiet: 0.5\n');
    const from = await writeVisit(await freshFolder(), {
      'a.jpg': await noise(71),
      'b.jpg': await noise(72),
      'c.jpg': await noise(73),
    });
    const watch = startWatch(root);
    const visit = join(root, 'inbox', 'room 1');
    await mkdir(visit);
    // The sidecar first, as copying often has it; then one picture: the visit waits for the other.
    await writeFile(join(visit, 'visit.yaml'), SIDECAR);
    await copyFile(join(from, 'a.jpg'), join(visit, 'a.jpg'));
    await until(() => watch.reports().some(({ status }) => status === 'waiting'));
    expect(watch.reports().find(({ status }) => status === 'waiting')?.waitingFor).toContain('b.jpg');
    await copyFile(join(from, 'b.jpg'), join(visit, 'b.jpg'));
    await until(() => watch.reports().some(({ status }) => status === 'done'));
    const done = watch.reports().find(({ status }) => status === 'done') as VisitReport;
    expect((await readFile(join(root, done.sheets[0] as string))).subarray(0, 5).toString()).toBe('%PDF-');
    await copyFile(join(from, 'c.jpg'), join(visit, 'c.jpg'));
    await writeFile(
      join(visit, 'visit.yaml'),
      `${SIDECAR}  - {file: c.jpg, stage: obturation, view: microscope}\n`,
    );
    await until(() => watch.reports().some(({ status }) => status === 'revised'));
    const revised = watch.reports().find(({ status }) => status === 'revised') as VisitReport;
    expect(revised).toMatchObject({ case: done.case, revision: 2 });
    expect(await readdir(join(root, 'cases'))).toEqual([done.case]);
    expect(await watch.stop()).toBe(0);
  });

  it('says when the inbox is missing and goes on when it is back', async () => {
    const root = join(await freshFolder(), 'practice');
    await scopeleaf(['init', root]);
    await writeFile(join(root, 'practice.yaml'), 'quiet: 0.2\n');
    const watch = startWatch(root);
    await until(() => watch.said().includes('Watching'));
    await rm(join(root, 'inbox'), { recursive: true });
    await until(() => watch.said().includes('inbox is missing'));
    await writeVisit(join(root, 'inbox', 'room 1'), {
      'a.jpg': await noise(74),
      'b.jpg': await noise(75),
      'visit.yaml': SIDECAR,
    });
    await until(() => watch.reports().some(({ status }) => status === 'done'));
    expect(await watch.stop()).toBe(0);
  });
});
