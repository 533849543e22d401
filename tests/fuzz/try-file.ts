import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Outcome } from '../../src/core/outcome.js';
import { sentenceOf } from '../../src/core/reason-sentence.js';
import { readSidecar } from '../../src/stages/label/index.js';
import type { PictureWorkers } from '../../src/workers/index.js';
import { MARKER } from '../fixtures/markers.js';
import type { Mutant } from './mutant.js';

/** What became of one file. */
export interface Tried {
  /** "kept", or "held" or "failed" with the code of the reason. */
  outcome: string;
  /** What must never be: empty when all is as it should be. */
  faults: string[];
  /** A child was ended for taking too long. */
  slow: boolean;
}

const UID_KEY = '5c'.repeat(32);

/** The way of a file through the workers: told by its bytes, stripped, compared, drawn. Sidecars are read here. */
export async function tryFile(mutant: Mutant, workers: PictureWorkers, folder: string): Promise<Tried> {
  if (mutant.kind === 'YAML') return trySidecar(mutant.bytes);
  const path = join(folder, `${mutant.number}.${mutant.extension}`);
  await writeFile(path, mutant.bytes);
  const facts = await workers.identify({ path, name: `a.${mutant.extension}` });
  if (facts.kind !== 'kept') return judged(facts);
  const odd = mutant.number % 2 === 1;
  const made = await workers.make({
    path,
    facts: facts.value,
    radiograph: odd,
    flip: mutant.number % 3 === 0,
    frame: odd ? 1 : undefined,
    uidKey: UID_KEY,
    into: null,
  });
  const tried = judged(made);
  const notes = made.kind === 'kept' ? [...made.value.notes, ...made.value.processing] : [];
  if ([...notes, ...facts.value.notes].some((note) => note.includes(MARKER)))
    tried.faults.push('a note quotes the file');
  return tried;
}

function judged(outcome: Outcome<unknown>): Tried {
  if (outcome.kind === 'kept') return { outcome: 'kept', faults: [], slow: false };
  const { reason } = outcome;
  const faults: string[] = [];
  const sentence = sentenceOf(reason);
  if (!/^[A-Z"].*[.)\]]$/s.test(sentence) || /undefined|NaN|null/.test(sentence))
    faults.push('no proper sentence');
  if (sentence.includes(MARKER)) faults.push('a sentence quotes the file');
  // A bug is an exception that no step made into a reason; a crash is a decoder that took its process along.
  if (reason.code === 'bug') faults.push(`an exception: ${reason.what}`);
  if (reason.code === 'worker-died' && reason.what === 'crash') faults.push('a crash of the child');
  const what = reason.code === 'worker-died' ? ` (${reason.what})` : '';
  return {
    outcome: `${outcome.kind} ${reason.code}${what}`,
    faults,
    slow: reason.code === 'worker-died' && reason.what === 'time',
  };
}

function trySidecar(bytes: Buffer): Tried {
  try {
    const result = readSidecar(bytes, { file: 'visit.yaml', notation: 'fdi' });
    const errors = result.kind === 'refused' ? result.errors : [];
    const faults = errors.some(({ sentence }) => sentence.length < 10 || /undefined|NaN/.test(sentence))
      ? ['no proper sentence']
      : [];
    return { outcome: result.kind === 'refused' ? 'held sidecar-refused' : 'kept', faults, slow: false };
  } catch (error) {
    const { name } = error as Error;
    return { outcome: 'failed bug', faults: [`an exception: sidecar: ${name}`], slow: false };
  }
}
