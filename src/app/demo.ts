import { mkdtemp, readdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { initPractice, openPractice } from '../practice/index.js';
import { intakeVisits } from './intake/several.js';
import type { Ports } from './ports.js';
import type { VisitReport } from './report.js';

export type Demo =
  | { kind: 'refused'; sentence: string }
  | {
      kind: 'done';
      root: string;
      reports: VisitReport[];
      /** Absolute paths, one a case. */
      sheets: string[];
      /** Every sound visit was taken in and every faulty one refused. */
      asExpected: boolean;
    };

/** The program's own folder is two levels up from dist/app and src/app alike. */
const SAMPLES = fileURLToPath(new URL('../../sample-images/visits/', import.meta.url));

/** Folders whose sidecar has mistakes on purpose end with this word. */
const FAULTY = / mistakes$/;

/** Takes the sample visits in, in order, in a practice made for it. */
export async function runSamples(
  dir: string | null,
  ports: Ports,
  onReports: (reports: VisitReport[]) => void,
): Promise<Demo> {
  const made = await initPractice(dir ?? (await mkdtemp(join(tmpdir(), 'scopeleaf-demo-'))));
  if (!made.ok) return { kind: 'refused', sentence: made.sentence };
  const opened = await openPractice(made.root);
  if (!opened.ok)
    return { kind: 'refused', sentence: opened.errors.map((error) => error.sentence).join(' ') };
  const reports: VisitReport[] = [];
  let asExpected = true;
  for (const name of (await readdir(SAMPLES)).sort()) {
    const taken = await intakeVisits(opened.practice, [join(SAMPLES, name)], ports);
    const wanted: VisitReport['status'][] = FAULTY.test(name) ? ['refused'] : ['done', 'revised'];
    asExpected &&= taken.every(
      (report) => wanted.includes(report.status) && (FAULTY.test(name) || report.sheets.length > 0),
    );
    onReports(taken);
    reports.push(...taken);
  }
  const sheets = [...new Set(reports.flatMap((report) => report.sheets))].map((sheet) =>
    join(made.root, sheet),
  );
  return { kind: 'done', root: made.root, reports, sheets, asExpected };
}
