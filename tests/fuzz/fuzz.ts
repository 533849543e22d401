import { mkdtemp, rm, unlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openWorkers, type WorkerOptions } from '../../src/workers/index.js';
import { projectFile } from '../fixtures/project-file.js';
import { type Mutant, mutantOf } from './mutant.js';
import { drawSeeds, type SeedKind } from './seeds.js';
import { type Tried, tryFile } from './try-file.js';
import { watchChildren } from './watch-children.js';

export interface FuzzOptions {
  /** Numbers of the files: from the first on. */
  from: number;
  count: number;
  only: SeedKind | null;
  /** Side by side. */
  size: number;
  /** More of the processor's time than this is a hang. */
  hangMs: number;
  progress(done: number, faults: number): void;
}

export interface Fault {
  number: number;
  kind: SeedKind;
  from: string;
  what: string;
  file: string;
}

export interface FuzzReport {
  /** How often, by kind of file and outcome. */
  outcomes: Record<string, Record<string, number>>;
  faults: Fault[];
  hangs: number;
  /** Of any one child; 0 where the system does not tell. */
  peakBytes: number;
  /** Where the files of the faults are. */
  folder: string;
}

/** As in a practice, but with children that live longer: starting them is most of the time of small files. */
const workerOptions = (size: number, hangMs: number): Partial<WorkerOptions> => ({
  size,
  timeLimitMs: hangMs,
  jobsPerChild: 2000,
  childModule: projectFile('dist/workers/child.js'),
});

/** Tries files one after the other; a bad one never stops the others. Writes nothing outside a folder of its own. */
export async function fuzz(options: FuzzOptions): Promise<FuzzReport> {
  const folder = await mkdtemp(join(tmpdir(), 'scopeleaf-fuzz-'));
  const seeds = await drawSeeds();
  const children = watchChildren();
  const workers = openWorkers(workerOptions(options.size, options.hangMs));
  const report: FuzzReport = { outcomes: {}, faults: [], hangs: 0, peakBytes: 0, folder };
  const slow: Mutant[] = [];
  let next = options.from;
  let done = 0;
  const end = options.from + options.count;
  const work = async (): Promise<void> => {
    while (next < end) {
      const mutant = mutantOf(next++, seeds, options.only);
      const tried = await tryFile(mutant, workers, folder);
      if (tried.slow) slow.push(mutant);
      await enter(report, mutant, tried);
      options.progress(++done, report.faults.length);
    }
  };
  await Promise.all(Array.from({ length: options.size + 1 }, work));
  await workers.close();
  for (const mutant of slow) await tryAgain(report, mutant, options.hangMs);
  report.peakBytes = children.stop().peakBytes;
  if (report.faults.length === 0) await rm(folder, { recursive: true, force: true });
  return report;
}

/** How often a file that was slow is given the time of a hang again. */
const PATIENCE = 12;

/**
 * A machine with other work makes any file slow, so a hang is told by the processor's time: the file is tried again
 * alone, with patience, and what its child took by then decides. Starting a child takes some of it as well.
 */
async function tryAgain(report: FuzzReport, mutant: Mutant, hangMs: number): Promise<void> {
  const children = watchChildren();
  const alone = openWorkers(workerOptions(1, PATIENCE * hangMs));
  const { slow } = await tryFile(mutant, alone, report.folder);
  await alone.close();
  const { cpuMs } = children.stop();
  if (!slow && cpuMs <= hangMs) return;
  report.hangs++;
  await enter(report, mutant, {
    outcome: '',
    faults: [`took ${cpuMs} ms of the processor's time`],
    slow: true,
  });
}

async function enter(report: FuzzReport, mutant: Mutant, tried: Tried): Promise<void> {
  const { number, kind, from, extension } = mutant;
  const file = join(report.folder, `${number}.${extension}`);
  if (tried.outcome !== '') {
    report.outcomes[kind] ??= {};
    const counts = report.outcomes[kind];
    counts[tried.outcome] = (counts[tried.outcome] ?? 0) + 1;
  }
  for (const what of tried.faults) report.faults.push({ number, kind, from, what, file });
  const keep = tried.faults.length > 0 || tried.slow;
  if (kind === 'YAML' && keep) await writeFile(file, mutant.bytes);
  if (kind !== 'YAML' && !keep) await unlink(file);
}
