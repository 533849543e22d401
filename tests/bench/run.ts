/** `npm run bench`: one table of ratios, every one measured in this run on this machine. */
import { spawnSync } from 'node:child_process';
import { type Row, ratio, row } from './row.js';
import { benchStrip } from './strip.js';
import { benchVisit } from './visit.js';

const CLI = new URL('../../../../bin/scopeleaf.js', import.meta.url).pathname;

async function benchHelp(): Promise<Row[]> {
  const run = async (args: string[]): Promise<void> => {
    spawnSync(process.execPath, args, { stdio: 'ignore' });
  };
  const measured = await ratio(
    15,
    () => run([CLI, '--help']),
    () => run(['-e', '0']),
  );
  return [row('scopeleaf --help, against bare node', measured, 1.5)];
}

const PARTS: Record<string, () => Promise<Row[]>> = { help: benchHelp, strip: benchStrip, visit: benchVisit };

/** `npm run bench -- strip` runs one part; without a name all of them. */
const wanted = process.argv.slice(2);
const rows: Row[] = [];
for (const [name, bench] of Object.entries(PARTS)) {
  if (wanted.length === 0 || wanted.includes(name)) rows.push(...(await bench()));
}
const mark = (one: Row): string => (one.reached === null ? '' : one.reached ? 'reached' : 'NOT REACHED');
const table = rows.map((one) => [one.what, one.reach, one.measured, mark(one)]);
const widths = [0, 1, 2].map((at) => Math.max(...table.map((cells) => (cells[at] as string).length)));
for (const cells of table) console.log(cells.map((cell, at) => cell.padEnd(widths[at] ?? 0)).join('  '));
