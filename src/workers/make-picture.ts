import { createHash } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { failed, kept, type Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import { identify } from '../stages/identify/index.js';
import { type Reduced, reduce, render } from '../stages/render/index.js';
import { strip } from '../stages/strip/index.js';
import type { IdentifyJob, JobHandlers, Made, MakeJob, ShrinkJob } from './picture-jobs.js';

/** Both files wait in private/tmp until the parent has fsynced them and put them in their place. */
const PRIVATE = { mode: 0o600 };

async function identifyPicture({ path, name }: IdentifyJob): Promise<Outcome<PictureFacts>> {
  return identify(await readFile(path), name);
}

/** Original to stripped copy to display picture, in one go so that the pixels are decoded once for all of it. */
async function makePicture(job: MakeJob, pixelLimit: number): Promise<Outcome<Made>> {
  const { path, facts, radiograph, flip, into } = job;
  const original = await readFile(path);
  const clean = await strip(original, facts);
  if (clean.kind !== 'kept') return clean;
  const stripped = clean.value.bytes;
  const rendered = await render({ original, stripped, facts, radiograph, flip, pixelLimit });
  if (rendered.kind !== 'kept') return rendered;
  const { display, ...said } = rendered.value;
  if (into) {
    await writeFile(into.stripped, stripped, PRIVATE);
    await writeFile(into.display, display, PRIVATE);
  }
  const displaySha256 = createHash('sha256').update(display).digest('hex');
  return kept({ ...said, displaySha256, notes: [...clean.value.notes, ...said.notes] });
}

async function reducePicture({ path, ...job }: ShrinkJob): Promise<Outcome<Reduced>> {
  return reduce({ ...job, bytes: await readFile(path) });
}

const copyPicture: JobHandlers['copy'] = async () => failed({ code: 'bug', what: 'no copy yet' });
const searchPicture: JobHandlers['search'] = async () => failed({ code: 'bug', what: 'no finder yet' });
/** Its readers are loaded by the children that audit, not by those that make pictures. */
const auditOne: JobHandlers['audit'] = async (job, pixelLimit) =>
  (await import('./audit-file.js')).auditOne(job, pixelLimit);

export const pictureHandlers: JobHandlers = {
  identify: identifyPicture,
  make: makePicture,
  copy: copyPicture,
  search: searchPicture,
  audit: auditOne,
  reduce: reducePicture,
};
