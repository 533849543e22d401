import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Ports } from '../../src/app/ports.js';
import { exitOfReport, type VisitReport } from '../../src/app/report.js';
import type { Practice } from '../../src/practice/index.js';
import {
  changedKinds,
  freshFolder,
  freshPractice,
  intake,
  noise,
  snapshot,
  testPorts,
  type VisitFiles,
  writeVisit,
} from './small-practice.js';

interface Said {
  patient?: string;
  tooth?: string;
  caption?: string;
  files?: string[];
  answers?: string;
}

const ROWAN = '{chart: A-1, names: [Rowan Testcase]}';
const JUNIPER = '{chart: B-2, names: [Juniper Sample]}';

function sidecar({
  patient = ROWAN,
  tooth = '{fdi: 46}',
  caption = 'Floor',
  files = ['a.jpg', 'b.jpg'],
  answers,
}: Said): string {
  const images = files.map(
    (file, at) =>
      `  - {file: ${file}, stage: ${at === 0 ? 'orifices' : 'access'}, view: microscope, caption: ${caption}}`,
  );
  return [
    `patient: ${patient}`,
    'visit: {date: 2026-02-11, state: interim}',
    `tooth: ${tooth}`,
    ...(answers ? [`answers: ${answers}`] : []),
    'images:',
    ...images,
    '',
  ].join('\n');
}

const SETTLED = '[{code: other-patient, by: AB, why: the clock of one camera is wrong}]';

/** The two pictures of a sound visit, a later one, and one from the day before. */
const A = await noise(1, '2026:02:11 09:00:00');
const B = await noise(2, '2026:02:11 09:05:00');
const LATE = await noise(3, '2026:02:11 09:40:00');
const B_YESTERDAY = await noise(4, '2026:02:10 09:05:00');

type State = 'none' | 'done' | 'held' | 'refused' | 'revised';
type Drop =
  | 'the same'
  | 'a late picture'
  | 'a corrected sidecar'
  | 'an answer'
  | 'a second tooth'
  | 'another patient';

/** What lies in the folder when the state is reached. `said` is what its sidecar says, to be varied by the drop. */
const STATES: Record<State, { pictures: VisitFiles; said: Said; first: Said[] }> = {
  none: { pictures: { 'a.jpg': A, 'b.jpg': B }, said: {}, first: [] },
  done: { pictures: { 'a.jpg': A, 'b.jpg': B }, said: {}, first: [{}] },
  held: { pictures: { 'a.jpg': A, 'b.jpg': B_YESTERDAY }, said: {}, first: [{}] },
  refused: {
    pictures: { 'a.jpg': A, 'b.jpg': B },
    said: { tooth: '{fdi: 49}' },
    first: [{ tooth: '{fdi: 49}' }],
  },
  revised: {
    pictures: { 'a.jpg': A, 'b.jpg': B },
    said: { caption: 'Second words' },
    first: [{}, { caption: 'Second words' }],
  },
};

const DROPS: Record<Drop, (said: Said) => { said: Said; pictures?: VisitFiles }> = {
  'the same': (said) => ({ said }),
  'a late picture': (said) => ({
    said: { ...said, files: ['a.jpg', 'b.jpg', 'c.jpg'] },
    pictures: { 'c.jpg': LATE },
  }),
  'a corrected sidecar': () => ({ said: { caption: 'Corrected words' } }),
  'an answer': (said) => ({ said: { ...said, answers: SETTLED } }),
  'a second tooth': (said) => ({ said: { ...said, tooth: '{fdi: 47}' } }),
  'another patient': (said) => ({ said: { ...said, patient: JUNIPER } }),
};

interface Expected {
  status: VisitReport['status'];
  exit: number;
  revision: number;
  changed: string[];
}

/** Kinds of files that a first filing writes, besides the originals and stripped copies. */
const FILED = [
  'case.json',
  'images',
  'private/codes',
  'private/journal',
  'private/patients',
  'private/visits',
  'sheets',
];
const PAPERS = ['private/cache', 'private/records'];
const NEW = [...FILED, ...PAPERS, 'private/originals', 'private/stripped'].sort();
const without = (list: string[], ...gone: string[]): string[] => list.filter((kind) => !gone.includes(kind));
const HELD = ['private/held', 'private/journal'];
const done = (revision: number, changed: string[]): Expected => ({
  status: 'done',
  exit: 0,
  revision,
  changed: changed.sort(),
});
const revised = (revision: number, changed: string[]): Expected => ({
  status: 'revised',
  exit: 0,
  revision,
  changed: changed.sort(),
});
const duplicate = (revision: number): Expected => ({ status: 'duplicate', exit: 0, revision, changed: [] });
const held = (changed: string[] = HELD): Expected => ({
  status: 'held',
  exit: 3,
  revision: 0,
  changed: [...changed].sort(),
});
const refused = (changed: string[] = HELD): Expected => ({
  status: 'refused',
  exit: 2,
  revision: 0,
  changed: [...changed].sort(),
});

/** A changed caption: nothing about the pictures themselves. */
const REWORDED = ['case.json', 'private/journal', 'private/patients', 'private/visits', 'sheets'];
const LATER_PICTURE = [...REWORDED, 'images', 'private/cache', 'private/originals', 'private/stripped'];
/** An answer to nothing is only a note: the record and the sheet stay as they are. */
const NOTED = ['private/journal', 'private/patients', 'private/visits'];

const TABLE: Record<State, Record<Drop, Expected>> = {
  none: {
    'the same': done(1, NEW),
    'a late picture': done(1, NEW),
    'a corrected sidecar': done(1, NEW),
    'an answer': done(1, NEW),
    'a second tooth': done(1, NEW),
    'another patient': done(1, NEW),
  },
  done: {
    'the same': duplicate(1),
    'a late picture': revised(2, LATER_PICTURE),
    'a corrected sidecar': revised(2, REWORDED),
    'an answer': revised(2, ['case.json', ...NOTED]),
    'a second tooth': done(1, without([...FILED, 'private/records'], 'private/cache')),
    'another patient': held(),
  },
  held: {
    'the same': held(),
    'a late picture': held([...HELD, 'private/originals']),
    'a corrected sidecar': held(),
    'an answer': done(1, [...without(NEW, 'private/originals'), 'private/held']),
    'a second tooth': held(),
    'another patient': held(),
  },
  refused: {
    'the same': refused(),
    'a late picture': refused([...HELD, 'private/originals']),
    'a corrected sidecar': done(1, [...without(NEW, 'private/originals'), 'private/held']),
    'an answer': refused(),
    'a second tooth': done(1, [...without(NEW, 'private/originals'), 'private/held']),
    'another patient': refused(),
  },
  revised: {
    'the same': duplicate(2),
    'a late picture': revised(3, LATER_PICTURE),
    'a corrected sidecar': revised(3, REWORDED),
    'an answer': revised(3, ['case.json', ...NOTED]),
    'a second tooth': done(1, without([...FILED, 'private/records'], 'private/cache')),
    'another patient': held(),
  },
};

async function reach(state: State, practice: Practice, folder: string, ports: Ports): Promise<void> {
  const { pictures, first } = STATES[state];
  for (const said of first) {
    await writeVisit(folder, { ...pictures, 'visit.yaml': sidecar(said) });
    await intake(practice, folder, ports);
  }
}

describe('every state on file against every next drop', () => {
  const ports = testPorts();
  for (const state of Object.keys(TABLE) as State[]) {
    it.each(Object.keys(TABLE[state]) as Drop[])(`${state}, then %s`, async (drop) => {
      const practice = await freshPractice();
      const folder = join(await freshFolder(), '2026-02-11 room 2');
      await reach(state, practice, folder, ports);
      const before = await snapshot(practice);
      const next = DROPS[drop](STATES[state].said);
      await writeVisit(folder, {
        ...STATES[state].pictures,
        ...next.pictures,
        'visit.yaml': sidecar(next.said),
      });
      const reports = await intake(practice, folder, ports);
      expect(reports).toHaveLength(1);
      const report = reports[0] as VisitReport;
      const changed = changedKinds(before, await snapshot(practice));
      expect({
        status: report.status,
        exit: exitOfReport(report),
        revision: report.revision,
        changed,
      }).toEqual(TABLE[state][drop]);
    });
  }
});
