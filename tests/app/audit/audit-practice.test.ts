import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { termsOfCase, termsOfPractice } from '../../../src/app/audit/index.js';
import { runAudit } from '../../../src/app/audit/run-audit.js';
import { readOnFile } from '../../../src/app/on-file.js';
import { protectPractice } from '../../../src/app/patients/protect.js';
import type { Ports } from '../../../src/app/ports.js';
import { kept } from '../../../src/core/outcome.js';
import type { Practice } from '../../../src/practice/index.js';
import {
  freshFolder,
  freshPractice,
  intake,
  noise,
  reopen,
  testPorts,
  writeVisit,
} from '../small-practice.js';

const real = testPorts();
/** Noise is no picture of anything, so nothing is looked for in it here. */
const ports: Ports = {
  ...real,
  workers: {
    ...real.workers,
    search: async () => kept({ texts: [], faces: [], widthPx: 48, heightPx: 48 }),
  },
};

const sidecar = (chart: string, name: string, tooth: number): string =>
  `patient: {chart: ${chart}, names: [${name}], born: 1984-06-02}\nvisit: {date: 2026-02-11}\ntooth: {fdi: ${tooth}}\nimages:\n  - {file: IMG_0412.JPG, stage: orifices, view: microscope}\n`;

describe('the terms of a practice', () => {
  let practice: Practice;
  let first: string;
  beforeAll(async () => {
    practice = await freshPractice();
    const drop = async (folder: string, text: string, seed: number) => {
      const path = await writeVisit(join(await freshFolder(), folder), {
        'IMG_0412.JPG': await noise(seed, '2026:02:11 09:41:03'),
        'visit.yaml': text,
      });
      return (await intake(practice, path, ports))[0]?.case as string;
    };
    first = await drop('Testcase Rowan 46', sidecar('A-20417', 'Rowan Testcase', 46), 901);
    await drop('room 2', sidecar('B-77310', 'Quill Elsewhere', 26), 902);
  });

  it('are those of everybody on file, and of a case those of its patient', async () => {
    const onFile = await readOnFile(practice);
    const all = termsOfPractice(practice, onFile);
    expect(all.patients.map(({ chart }) => chart)).toEqual(['A-20417', 'B-77310']);
    const one = termsOfCase(practice, onFile, first, ['9VTC4H']);
    expect(one.patients).toEqual([
      { chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02', visitDates: ['2026-02-11'] },
    ]);
    expect(one.fileNames).toEqual(['IMG_0412.JPG', 'Testcase Rowan 46']);
    expect(one.strings.map(({ value }) => value)).toContain('2026:02:11 09:41:03');
    expect(one.allowed).toEqual(['9VTC4H']);
  });

  it('are searched for by the command; its own output is clean until somebody writes into it', async () => {
    const { cases } = practice.paths;
    const record = join(cases, first, 'case.json');
    const clean = await runAudit(practice, ports, [record], null);
    expect(clean.kind === 'read' && clean.audit).toEqual({ clean: true, hits: [], possible: [], unread: [] });
    await mkdir(join(cases, first), { recursive: true });
    await writeFile(join(cases, first, 'note.txt'), 'ask quill');
    const found = await runAudit(practice, ports, [join(cases, first, 'note.txt')], null);
    expect(found.kind === 'read' && found.audit.hits.map(({ where, kind }) => `${where}: ${kind}`)).toEqual([
      'file time: date',
      'text: patient-name',
    ]);
  });

  it('cannot be searched for while they are locked, and then nothing is called clean', async () => {
    const path = join(await freshFolder(), 'key');
    await protectPractice(practice, ports, async () => ({ how: 'key-file', path }), false);
    const locked = await reopen(practice.root);
    const refused = await runAudit(locked, ports, [join(practice.paths.cases, first, 'case.json')], null);
    expect(refused.kind).toBe('locked');
    expect(refused.kind === 'locked' && refused.audit.clean).toBe(false);
  });
});
