import { type ErasePlan, erasePatient } from '../app/patients/erase/index.js';
import { exportPatient } from '../app/patients/export.js';
import { proposeInbox } from '../app/patients/inbox.js';
import { listPatients } from '../app/patients/list.js';
import { openFile } from '../app/patients/open-file.js';
import { type KeyWish, protectPractice, unprotectPractice, weakness } from '../app/patients/protect.js';
import type { Ports } from '../app/ports.js';
import type { Practice } from '../app/practice.js';
import { readPassphraseFile } from '../app/read-passphrase.js';
import { asOnlyWriter } from '../app/session.js';
import { askHidden, askOpenly, hasTerminal } from './ask.js';
import { namedKeyFile } from './key-source.js';
import { printError, printJson, printLine } from './print.js';
import {
  beforeErasing,
  erasedLines,
  inboxLines,
  patientLines,
  protectedLines,
  unknownPatient,
} from './words/patients-words.js';

interface Json {
  json?: true | undefined;
}

const print = (lines: readonly string[]): void => {
  for (const line of lines) printLine(line);
};

function complain(sentence: string): number {
  printError(sentence);
  return 2;
}

export async function runList(practice: Practice, { json }: Json): Promise<number> {
  const patients = await listPatients(practice);
  if (json) printJson(patients);
  else print(patients.flatMap(patientLines));
  if (!json && patients.length === 0) printLine('Nobody is on file.');
  return 0;
}

export async function runInbox(practice: Practice, ports: Ports, { json }: Json): Promise<number> {
  const proposals = await proposeInbox(practice, ports);
  if (json) printJson(proposals);
  else print(inboxLines(proposals));
  return 0;
}

export async function runOpen(
  practice: Practice,
  file: string,
  dir: string,
  { json }: Json,
): Promise<number> {
  const opened = await openFile(practice, file, dir);
  if (opened.kind === 'refused') return complain(opened.sentence);
  if (json) printJson({ folder: opened.folder, file: opened.name });
  else printLine(`${opened.folder}/${opened.name}`);
  return 0;
}

export async function runExport(
  practice: Practice,
  ports: Ports,
  chart: string,
  dir: string,
  { json }: Json,
): Promise<number> {
  const exported = await exportPatient(practice, ports, chart, dir);
  if (exported.kind === 'unknown') return complain(unknownPatient(chart));
  if (exported.kind === 'refused') return complain(exported.sentence);
  if (json) printJson({ folder: exported.folder, files: exported.files });
  else {
    printLine(`${exported.files} files: ${exported.folder}`);
    printLine('They name the patient and are not encrypted. Hand them over safely, then delete them.');
  }
  return 0;
}

export async function runProtect(
  practice: Practice,
  ports: Ports,
  options: Json & { passphrase?: true | undefined; originals?: true | undefined },
): Promise<number> {
  const wish = (): Promise<KeyWish | { sentence: string }> => keyWish(options.passphrase ?? false);
  const done = await protectPractice(practice, ports, wish, options.originals ?? false);
  if (done.kind === 'refused') return complain(done.sentence);
  const now = done.kind === 'already' ? practice : done.practice;
  const { how, originals } = now.protection ?? { how: null, originals: false };
  const changed = done.kind === 'already' ? 0 : done.changed;
  if (options.json) printJson({ protected: true, how, originals, changed });
  else print(protectedLines(done.kind === 'already', how, originals, changed));
  return 0;
}

/** The key as the command line asks for it; without a terminal a passphrase must come from a file. */
async function keyWish(passphraseWanted: boolean): Promise<KeyWish | { sentence: string }> {
  const { env } = process;
  const keyFile = namedKeyFile() ?? (env['SCOPELEAF_KEY_FILE'] || undefined);
  if (passphraseWanted && namedKeyFile() !== undefined) {
    return { sentence: 'Give --passphrase or --key-file, not both. Nothing was changed.' };
  }
  if (!passphraseWanted) {
    if (keyFile !== undefined) return { how: 'key-file', path: keyFile };
    return {
      sentence:
        'Say how the records are to be opened: --passphrase, or --key-file FILE. Nothing was changed.',
    };
  }
  const passphrase = await newPassphrase(env['SCOPELEAF_PASSPHRASE_FILE'] || undefined);
  if (typeof passphrase !== 'string') return passphrase;
  const weak = weakness(passphrase);
  return weak === null ? { how: 'passphrase', passphrase } : { sentence: weak };
}

async function newPassphrase(file: string | undefined): Promise<string | { sentence: string }> {
  if (file !== undefined) {
    const read = await readPassphraseFile(file);
    return (
      read ?? {
        sentence: 'The file that SCOPELEAF_PASSPHRASE_FILE names cannot be read. Nothing was changed.',
      }
    );
  }
  if (!hasTerminal()) {
    return {
      sentence:
        'There is no terminal to ask for a passphrase. Run it in a terminal, or name a file in SCOPELEAF_PASSPHRASE_FILE. Nothing was changed.',
    };
  }
  const first = await askHidden('New passphrase: ');
  const second = first && (await askHidden('The same again: '));
  return first && first === second
    ? first
    : { sentence: 'The two were not the same, or nothing was typed. Nothing was changed.' };
}

export async function runUnprotect(practice: Practice, ports: Ports, { json }: Json): Promise<number> {
  const done = await unprotectPractice(practice, ports);
  if (done.kind === 'refused') return complain(done.sentence);
  const changed = done.kind === 'already' ? 0 : done.changed;
  if (json) printJson({ protected: false, changed });
  else if (done.kind === 'already') printLine('The private records are not encrypted.');
  else printLine(`The private records lie in clear again (${changed} files).`);
  return 0;
}

export async function runErase(
  practice: Practice,
  ports: Ports,
  chart: string,
  { json, yes }: Json & { yes?: true | undefined },
): Promise<number> {
  if (!yes && !hasTerminal()) {
    return complain(
      'There is no terminal to ask on. Run it in a terminal, or add --yes. Nothing was erased.',
    );
  }
  const erasure = await asOnlyWriter(practice, 'patients erase', () =>
    erasePatient(practice, ports, chart, async (patient, plan) => {
      for (const line of beforeErasing(patient, plan)) printError(line);
      if (yes) return true;
      const typed = await askOpenly(`Type ${chart} to erase, or press Enter to leave everything as it is: `);
      return typed?.trim() === chart;
    }),
  );
  if (erasure.kind === 'unknown') return complain(unknownPatient(chart));
  if (erasure.kind === 'left') {
    printError('Nothing was erased.');
    return 3;
  }
  if (json) printJson(erasedJson(erasure.plan, erasure.paper));
  else print(erasedLines(erasure.plan, erasure.paper));
  return 0;
}

const erasedJson = (plan: ErasePlan, paper: string) => ({
  receipt: plan.receipt,
  paper: `private/${paper}`,
  cases: plan.codes.length,
  visits: plan.visits.length,
  originals: plan.originals.length,
  keptOriginals: plan.keptOriginals,
  held: plan.held.length,
  recipients: plan.recipients,
  inbox: plan.inbox,
  doubtful: plan.doubtful,
});
