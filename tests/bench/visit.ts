import { spawn } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { writeLargeVisit } from './large-visit.js';
import { type Row, row, time } from './row.js';

const CLI = new URL('../../../../bin/scopeleaf.js', import.meta.url).pathname;
const MEMORY_BAR_GB = 1.2;

interface Measured {
  seconds: number;
  peakBytes: number;
  stdout: string;
}

/** The rows on a whole visit: folder to sheet, growth, a second intake, and a rebuilt sheet. */
export async function benchVisit(): Promise<Row[]> {
  const root = await mkdtemp(join(tmpdir(), 'scopeleaf-bench-'));
  try {
    const sizes = [1, 2, 4].map((times) => ({ stills: 24 * times, films: 6 * times }));
    const runs: {
      first: Measured;
      again: Measured;
      sheet: Measured;
      decodeSeconds: number;
      pictures: number;
    }[] = [];
    for (const [at, size] of sizes.entries()) {
      const folder = join(root, `visit-${at}`);
      await writeLargeVisit(folder, size, at + 1);
      const practice = join(root, `practice-${at}`);
      await scopeleaf(['init', practice]);
      // Decoding before and after, so that a machine that slows down meanwhile does not flatter either side.
      const before = await decodeAll(folder);
      const first = await scopeleaf(['intake', folder, '-p', practice, '--json']);
      const after = await decodeAll(folder);
      const code = JSON.parse(first.stdout).case as string;
      const again = await scopeleaf(['intake', folder, '-p', practice, '--json']);
      const sheet = await scopeleaf(['sheet', code, '-p', practice]);
      runs.push({
        first,
        again,
        sheet,
        decodeSeconds: (before + after) / 2,
        pictures: size.stills + size.films,
      });
      await rm(folder, { recursive: true });
      await rm(practice, { recursive: true });
    }
    return rowsOf(runs as never);
  } finally {
    await rm(root, { recursive: true, force: true });
  }
}

function rowsOf(runs: [Run, Run, Run]): Row[] {
  const [one, two, four] = runs;
  const perPicture = (run: Run): number => run.first.seconds / run.pictures;
  const peak = (run: Run): string => `${(run.first.peakBytes / 1e9).toFixed(2)} GB`;
  return [
    row(
      '24 stills and 6 radiographs, folder to sheet, against one decode of each',
      one.first.seconds / one.decodeSeconds,
      5,
    ),
    {
      what: 'its peak memory of the process tree',
      reach: `under ${MEMORY_BAR_GB} GB`,
      measured: peak(one),
      reached: one.first.peakBytes < MEMORY_BAR_GB * 1e9,
    },
    row('time per picture at 2 x the pictures, against 1 x', perPicture(two) / perPicture(one), 1.1),
    row('time per picture at 4 x the pictures, against 1 x', perPicture(four) / perPicture(one), 1.1),
    row('peak memory at 4 x the pictures, against 1 x', four.first.peakBytes / one.first.peakBytes, 1.1),
    row('a second intake of the same visit, against the first', one.again.seconds / one.first.seconds, 0.1),
    row(
      'a sheet rebuilt from cached pictures, against the first intake',
      one.sheet.seconds / one.first.seconds,
      0.15,
    ),
  ];
}

interface Run {
  first: Measured;
  again: Measured;
  sheet: Measured;
  decodeSeconds: number;
  pictures: number;
}

/** One thread, one picture after the other, every pixel: what any program that looks at the pictures must do. */
async function decodeAll(folder: string): Promise<number> {
  sharp.concurrency(1);
  sharp.cache(false);
  const names = (await readdir(folder)).filter((name) => !name.endsWith('.yaml'));
  const ms = await time(async () => {
    for (const name of names)
      await sharp(await readFile(join(folder, name)))
        .raw()
        .toBuffer();
  });
  return ms / 1000;
}

/** Runs the command with one worker and sums the resident memory of its process tree every 50 ms. */
function scopeleaf(args: readonly string[]): Promise<Measured> {
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const child = spawn(process.execPath, [CLI, ...args], {
      env: { ...process.env, SCOPELEAF_WORKERS: '1' },
    });
    let stdout = '';
    let peakBytes = 0;
    child.stdout.on('data', (data) => {
      stdout += data;
    });
    child.stderr.resume();
    const timer = setInterval(() => {
      treeBytes(child.pid as number).then((bytes) => {
        peakBytes = Math.max(peakBytes, bytes);
      });
    }, 50);
    child.on('error', reject);
    child.on('exit', (code) => {
      clearInterval(timer);
      if (code !== 0) reject(new Error(`scopeleaf ${args[0]} ended with ${code}`));
      else resolve({ seconds: (performance.now() - start) / 1000, peakBytes, stdout });
    });
  });
}

const PAGE_BYTES = 4096;

/** Resident memory of a process and all below it, from /proc; 0 on a system without it. */
async function treeBytes(pid: number): Promise<number> {
  try {
    const resident = Number((await readFile(`/proc/${pid}/statm`, 'utf8')).split(' ')[1]) * PAGE_BYTES;
    const children = await readFile(`/proc/${pid}/task/${pid}/children`, 'utf8');
    const below = await Promise.all(
      children
        .trim()
        .split(' ')
        .filter(Boolean)
        .map((child) => treeBytes(Number(child))),
    );
    return resident + below.reduce((sum, bytes) => sum + bytes, 0);
  } catch {
    return 0;
  }
}
