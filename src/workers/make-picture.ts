import { readFile } from 'node:fs/promises';
import { kept, type Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import { identify } from '../stages/identify/index.js';
import { type Reduced, reduce, render } from '../stages/render/index.js';
import { strip } from '../stages/strip/index.js';
import type { IdentifyJob, JobHandlers, Made, MakeJob, ShrinkJob } from './picture-jobs.js';

async function identifyPicture({ path, name }: IdentifyJob): Promise<Outcome<PictureFacts>> {
  return identify(await readFile(path), name);
}

/** Original to stripped copy to display picture, in one go so that the pixels are decoded once for all of it. */
async function makePicture(job: MakeJob, pixelLimit: number): Promise<Outcome<Made>> {
  const { path, facts, radiograph, flip } = job;
  const original = await readFile(path);
  const clean = await strip(original, facts);
  if (clean.kind !== 'kept') return clean;
  const stripped = clean.value.bytes;
  const rendered = await render({ original, stripped, facts, radiograph, flip, pixelLimit });
  if (rendered.kind !== 'kept') return rendered;
  return kept({ ...rendered.value, stripped, notes: [...clean.value.notes, ...rendered.value.notes] });
}

async function reducePicture({ path, ...job }: ShrinkJob): Promise<Outcome<Reduced>> {
  return reduce({ ...job, bytes: await readFile(path) });
}

export const pictureHandlers: JobHandlers = {
  identify: identifyPicture,
  make: makePicture,
  reduce: reducePicture,
};
