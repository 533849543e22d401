import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Ports } from '../../../src/app/ports.js';
import { shareSheet } from '../../../src/app/share/index.js';
import type { ShareReport } from '../../../src/app/share/share-report.js';
import type { ShareWish } from '../../../src/app/share/share-wish.js';
import { kept } from '../../../src/core/outcome.js';
import type { Practice } from '../../../src/practice/index.js';
import type { PictureWorkers } from '../../../src/workers/index.js';
import { freshFolder, intake, noise, testPorts, writeVisit } from '../small-practice.js';

/** Child processes take a while to start: one set of them for a whole file. */
let base: Ports | null = null;

/** The real world but for the models: pictures without text or faces, and an audit that finds nothing. */
export function quietPorts(over: Partial<PictureWorkers> = {}): Ports {
  base ??= testPorts();
  const ports = base;
  const quiet: Partial<PictureWorkers> = {
    search: async () => kept({ texts: [], faces: [], widthPx: 48, heightPx: 48 }),
    audit: async () => kept({ hits: [], possible: [], unread: [] }),
  };
  return { ...ports, workers: { ...ports.workers, ...quiet, ...over } };
}

export const A = await noise(71, '2026:02:11 09:00:00');
export const B = await noise(72, '2026:02:11 09:05:00');

export interface Said {
  patient?: string;
  date?: string;
  consent?: string;
  images?: string[];
  more?: string[];
}

export const STILL = '{file: a.jpg, stage: orifices, view: microscope, caption: Floor}';
export const SECOND = '{file: b.jpg, stage: access, view: microscope}';

export const sidecar = ({
  patient = '{chart: A-20417, names: [Rowan Testcase]}',
  date = '2026-02-11',
  consent = '{referral: true}',
  images = [STILL, SECOND],
  more = [],
}: Said = {}): string =>
  [
    `patient: ${patient}`,
    `visit: {date: ${date}, state: interim}`,
    ...(consent === '' ? [] : [`consent: ${consent}`]),
    'tooth: {fdi: 46}',
    ...more,
    'images:',
    ...images.map((image) => `  - ${image}`),
    '',
  ].join('\n');

/** Takes a visit in and gives its case code. */
export async function takeIn(
  practice: Practice,
  ports: Ports,
  said: Said = {},
  files: Record<string, Uint8Array> = { 'a.jpg': A, 'b.jpg': B },
): Promise<string> {
  const folder = join(await freshFolder(), 'visit');
  await writeVisit(folder, { ...files, 'visit.yaml': sidecar(said) });
  const [report] = await intake(practice, folder, ports);
  if (!report?.case) throw new Error(`not taken in: ${JSON.stringify(report)}`);
  return report.case;
}

export const WISH: ShareWish = {
  template: 'referrer',
  to: 'Dr Example, North Street',
  reviewedBy: 'AB',
  pictures: false,
  basis: null,
  onLooks: () => undefined,
};

/** Shares and gives the report; what is no answer fails the test. */
export async function share(
  practice: Practice,
  ports: Ports,
  code: string,
  wish: Partial<ShareWish> = {},
): Promise<ShareReport> {
  const answer = await shareSheet(practice, ports, code, { ...WISH, ...wish });
  if (answer.kind !== 'answered') throw new Error(`no answer: ${answer.kind}`);
  return answer.report;
}

export const codesOf = ({ reasons }: ShareReport): string[] => reasons.map(({ code }) => code).sort();

/** The referrer's template under the name of another audience. */
export async function writeTemplate(practice: Practice, audience: string): Promise<void> {
  const own = await readFile(new URL('../../../templates/referrer.yaml', import.meta.url), 'utf8');
  const other = own
    .replace('template: referrer', `template: ${audience}`)
    .replace('audience: referrer ', `audience: ${audience} `);
  await writeFile(join(practice.paths.templates, `${audience}.yaml`), other);
}
