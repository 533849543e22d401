import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Ports } from '../../../src/app/ports.js';
import { shareCodeOf } from '../../../src/app/sheet/make-sheet.js';
import { appendRegister, appendReview, type Practice } from '../../../src/practice/index.js';
import { freshPractice, intake, noise, writeVisit } from '../small-practice.js';

/** Everything that says who the first patient is. */
export const ROWAN = ['Rowan', 'Testcase', 'A-20417', '20417', '1984-06-02', '2026-02-11'];

export const shots = async () => ({
  rowan: await noise(61),
  held: await noise(62),
  shared: await noise(63),
  other: await noise(64),
});

export const sidecarOf = (patient: string, files: readonly string[], more = ''): string =>
  [
    patient,
    'visit: {date: 2026-02-11, state: finished}',
    'tooth: {fdi: 46}',
    'consent: {referral: true}',
    more,
    'images:',
    ...files.map((file) => `  - {file: ${file}, stage: orifices, view: microscope}`),
    '',
  ].join('\n');

const PATIENT = 'patient: {chart: A-20417, names: [Rowan Testcase], born: 1984-06-02}';
const OTHER = 'patient: {chart: B-7, names: [Ines Example]}';
export const ANSWER = 'answers: [{code: other-patient, by: AB, why: "the same still in both"}]';

/**
 * A practice with two patients who share one picture. Of the first: a visit, a folder that is held without a sidecar
 * and carries the name, a review, a release to a referrer and one to the patient, and folders still in the inbox.
 */
export async function twoPatients(ports: Ports, practice?: Practice) {
  const at = practice ?? (await freshPractice());
  const pictures = await shots();
  const inbox = (name: string): string => join(at.paths.inbox, name);
  const visit = await writeVisit(inbox('Testcase Rowan'), {
    'Rowan 1.jpg': pictures.rowan,
    'both.jpg': pictures.shared,
    'visit.yaml': sidecarOf(PATIENT, ['Rowan 1.jpg', 'both.jpg']),
  });
  const [report] = await intake(at, visit, ports);
  const held = await writeVisit(inbox('rowan testcase 2'), { 'x.jpg': pictures.held });
  await intake(at, held, ports);
  const other = await writeVisit(inbox('room 2'), {
    'a.jpg': pictures.other,
    'b.jpg': pictures.shared,
    'visit.yaml': sidecarOf(OTHER, ['a.jpg', 'b.jpg'], ANSWER),
  });
  const [others] = await intake(at, other, ports);
  const code = report?.case as string;
  const shareCode = await shareCodeOf(at, ports, code, 'referrer');
  await release(at, code, shareCode);
  return { practice: at, pictures, code, other: others?.case as string, shareCode, visit };
}

async function release(practice: Practice, code: string, shareCode: string): Promise<void> {
  const at = '2026-02-12T09:00:00.000Z';
  const sha256 = '0'.repeat(64);
  await appendReview(practice, { at, case: code, template: 'referrer', sha256, by: 'AB', looks: [] });
  for (const [id, to] of [
    ['r1', 'Dr Example'],
    ['r2', 'Rowan Testcase herself'],
  ] as const) {
    await appendRegister(practice, {
      kind: 'shared',
      id,
      at,
      what: 'sheet',
      case: code,
      shareCode,
      template: 'referrer',
      audience: 'referrer',
      to,
      by: 'AB',
      basis: 'consent',
      version: 1,
      replaces: null,
      sha256,
      files: [],
      audit: { clean: true, possible: 0 },
    });
  }
}

export const filesOf = (practice: Practice): string[] =>
  readdirSync(practice.root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !path.startsWith(practice.paths.inbox))
    .sort();

/** Where a text, or bytes, stand in the practice outside of its inbox: names, and bytes in four encodings. */
export function findIn(practice: Practice, wanted: string | Uint8Array): string[] {
  const forms =
    typeof wanted === 'string'
      ? [
          Buffer.from(wanted, 'utf8'),
          Buffer.from(wanted, 'latin1'),
          Buffer.from(wanted, 'utf16le'),
          Buffer.from(wanted, 'utf16le').swap16(),
        ]
      : [Buffer.from(wanted)];
  return filesOf(practice)
    .filter((path) => {
      const name = relative(practice.root, path);
      if (typeof wanted === 'string' && name.includes(wanted)) return true;
      const bytes = readFileSync(path);
      return forms.some((form) => bytes.includes(form));
    })
    .map((path) => relative(practice.root, path));
}

export const modesOf = (practice: Practice): Map<string, number> =>
  new Map(filesOf(practice).map((path) => [relative(practice.root, path), statSync(path).mode & 0o777]));
