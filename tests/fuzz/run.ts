/**
 * `npm run fuzz`: 20,000 damaged files through every parser and decoder.
 * `npm run fuzz -- --count 500 --from 7000 --only HEIC --size 2`; `--from N --count 1` tries one file again.
 */
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { type FuzzReport, fuzz } from './fuzz.js';
import { KINDS, type SeedKind } from './seeds.js';

const { values } = parseArgs({
  options: {
    count: { type: 'string', default: '20000' },
    from: { type: 'string', default: '0' },
    only: { type: 'string' },
    size: { type: 'string', default: String(availableParallelism()) },
  },
});
const only = KINDS.find((kind) => kind === values.only) ?? null;
if (values.only && !only) throw new Error(`--only is one of ${KINDS.join(', ')}`);

const report = await fuzz({
  from: Number(values.from),
  count: Number(values.count),
  only: only as SeedKind | null,
  size: Number(values.size),
  hangMs: 5000,
  progress: (done, faults) => {
    if (done % 500 === 0) console.error(`${done} of ${values.count}, ${faults} faults`);
  },
});
print(report);
process.exitCode = report.faults.length === 0 ? 0 : 1;

function print({ outcomes, faults, hangs, peakBytes, folder }: FuzzReport): void {
  for (const [kind, counts] of Object.entries(outcomes))
    for (const [outcome, count] of Object.entries(counts).sort(([, a], [, b]) => b - a))
      console.log(`${kind.padEnd(6)} ${outcome.padEnd(28)} ${String(count).padStart(6)}`);
  const crashes = faults.filter(({ what }) => what.startsWith('a crash')).length;
  console.log(`crashes ${crashes}, hangs ${hangs}, other faults ${faults.length - crashes - hangs}`);
  console.log(`most memory of a child: ${Math.round(peakBytes / 1e6)} MB`);
  for (const { number, kind, from, what, file } of faults)
    console.log(`${number} ${kind} from "${from}": ${what}; ${file}`);
  if (faults.length > 0) console.log(`The files are in ${folder}.`);
}
