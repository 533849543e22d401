import { availableParallelism } from 'node:os';
import { openFaceFinder } from '../finders/faces/index.js';
import type { FaceFinder, TextFinder } from '../finders/finder.js';
import { openTextFinder } from '../finders/text/index.js';
import { loadFaceModels, loadTextModels } from './load-models.js';

/** Two are enough for one picture; more only wait for each other. */
const threads = (): number => Math.max(1, Math.min(2, availableParallelism()));

let text: Promise<TextFinder> | null = null;
let faces: Promise<FaceFinder> | null = null;

/** Opened at the first search and kept as long as the child lives: loading a model takes longer than using it. */
export function textFinder(): Promise<TextFinder> {
  text ??= loadTextModels().then((models) => openTextFinder(models, { threads: threads() }));
  return text;
}

export function faceFinder(): Promise<FaceFinder> {
  faces ??= loadFaceModels().then((models) => openFaceFinder(models, { threads: threads() }));
  return faces;
}
