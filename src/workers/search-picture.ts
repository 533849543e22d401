import { readFile } from 'node:fs/promises';
import { held, kept, type Outcome } from '../core/outcome.js';
import type { FinderPicture, FoundBox } from '../finders/finder.js';
import { showOriginal } from '../stages/render/index.js';
import { faceFinder, textFinder } from './finders.js';
import type { Searched, SearchJob } from './picture-jobs.js';

/**
 * The display picture that an original makes, looked at by both finders. A finder that fails holds the picture. A
 * mirror view is looked at as it was taken, since writing reads only that way round; boxes are of the flipped one.
 */
export async function searchPicture(job: SearchJob, pixelLimit: number): Promise<Outcome<Searched>> {
  const { path, flip, ...how } = job;
  const shown = await showOriginal({ ...how, flip: false, original: await readFile(path), pixelLimit });
  if (shown.kind !== 'kept') return shown;
  const { widthPx, heightPx } = shown.value;
  const texts = await asked('text', async () => (await textFinder()).find(shown.value));
  if (texts.kind !== 'kept') return texts;
  const faces = await asked('faces', async () => (await faceFinder()).find(shown.value));
  if (faces.kind !== 'kept') return faces;
  const asShown = <T extends { box: FoundBox }>(found: T[]): T[] =>
    flip ? found.map((one) => ({ ...one, box: mirrored(one.box, widthPx) })) : found;
  return kept({ texts: asShown(texts.value), faces: asShown(faces.value), widthPx, heightPx });
}

const mirrored = ([x, y, width, height]: FoundBox, pictureWidthPx: number): FoundBox => [
  pictureWidthPx - x - width,
  y,
  width,
  height,
];

async function asked<T>(what: 'text' | 'faces', find: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return kept(await find());
  } catch {
    return held({ code: 'not-searched', what });
  }
}

/** For the audit, which reads the pictures of finished files again. */
export const searchTexts = async (picture: FinderPicture) => (await textFinder()).find(picture);
