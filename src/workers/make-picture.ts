import { createHash } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { kept, type Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import type { FoundBox } from '../finders/finder.js';
import { paintCopy } from '../formats/dicom/copy/index.js';
import type { StripOptions } from '../formats/format.js';
import { paintBoxes } from '../stages/cover/index.js';
import { identify } from '../stages/identify/index.js';
import { type Paint, type Reduced, reduce, render } from '../stages/render/index.js';
import { strip } from '../stages/strip/index.js';
import type { CopyJob, IdentifyJob, JobHandlers, Made, MakeJob, ShrinkJob } from './picture-jobs.js';

/** Both files wait in private/tmp until the parent has fsynced them and put them in their place. */
const PRIVATE = { mode: 0o600 };

async function identifyPicture({ path, name }: IdentifyJob): Promise<Outcome<PictureFacts>> {
  return identify(await readFile(path), name);
}

/** Original to stripped copy to display picture, in one go so that the pixels are decoded once for all of it. */
async function makePicture(job: MakeJob, pixelLimit: number): Promise<Outcome<Made>> {
  const { path, facts, radiograph, flip, frame, into } = job;
  const original = await readFile(path);
  const clean = await strip(original, facts, stripOptions(job, pixelLimit));
  if (clean.kind !== 'kept') return clean;
  const stripped = clean.value.bytes;
  const how = { original, stripped, facts, radiograph, flip, frame, pixelLimit };
  const rendered = await render({ ...how, paint: painter(job.covers ?? []) });
  if (rendered.kind !== 'kept') return rendered;
  const { display, ...said } = rendered.value;
  if (into) {
    await writeFile(into.stripped, stripped, PRIVATE);
    await writeFile(into.display, display, PRIVATE);
  }
  const displaySha256 = createHash('sha256').update(display).digest('hex');
  return kept({ ...said, displaySha256, notes: [...clean.value.notes, ...said.notes] });
}

function stripOptions({ frame, uidKey }: MakeJob, pixelLimit: number): StripOptions {
  return {
    pixelLimit,
    ...(frame === undefined ? {} : { frame }),
    ...(uidKey === undefined ? {} : { uidKey: Buffer.from(uidKey, 'hex') }),
  };
}

const painter = (boxes: readonly FoundBox[]): Paint | undefined =>
  boxes.length === 0 ? undefined : (samples, size) => paintBoxes(samples, size, boxes);

async function copyPicture({ path, covers, flipped, into }: CopyJob): Promise<Outcome<null>> {
  const painted = paintCopy(await readFile(path), covers, true, flipped);
  if (painted.kind !== 'kept') return painted;
  await writeFile(into, painted.value, PRIVATE);
  return kept(null);
}

async function reducePicture({ path, ...job }: ShrinkJob): Promise<Outcome<Reduced>> {
  return reduce({ ...job, bytes: await readFile(path) });
}

/** The finders are loaded by the children that search, not by those that make pictures. */
const searchPicture: JobHandlers['search'] = async (job, pixelLimit) =>
  (await import('./search-picture.js')).searchPicture(job, pixelLimit);
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
