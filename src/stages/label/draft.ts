import type { Node } from 'yaml';
import type { ToothRef } from '../../trade/tooth-ref.js';
import { toVisitDocument } from '../../trade/visit/index.js';
import type { CanalEntry, ImageEntry, VisitDocument } from '../../trade/visit-document.js';
import type { Problem } from './problem.js';
import { type Places, pathKey, readNode } from './read-node.js';
import type { AnySchema } from './schema-at.js';
import type { HeldFile } from './sidecar-error.js';

/** One YAML document, read. `refusing` problems refuse the whole file, `holding` ones an entry or a key. */
export interface Draft {
  document: VisitDocument;
  refusing: Problem[];
  holding: Problem[];
  heldFiles: HeldFile[];
  /** Keys written in this document, for what a later one inherits. */
  written: ReadonlySet<string>;
  /** Whether the tooth could be read; `document.tooth` means nothing otherwise. */
  toothKnown: boolean;
  places: Places;
  /** Where the document starts in the text. */
  offset: number;
  /** Parts of `document` by their path in the text, for the check of texts. */
  canalAt: Map<CanalEntry, number>;
  imageAt: Map<ImageEntry, number>;
}

/** Keys a mistake in which refuses the file: whose tooth, and whose picture, it would be unclear. */
export const REFUSING: readonly string[] = ['patient', 'tooth', 'images'];

export const NO_TOOTH: ToothRef = { supernumerary: 'unknown' };

export const emptyDraft = (places: Places, offset: number): Draft => ({
  document: toVisitDocument({ tooth: NO_TOOTH }, [], []),
  refusing: [],
  holding: [],
  heldFiles: [],
  written: new Set(),
  toothKnown: false,
  places,
  offset,
  canalAt: new Map(),
  imageAt: new Map(),
});

/** Reads the value of a top-level key; one with nothing behind it is told apart from one that is not there. */
export function readTop(node: Node | null, part: AnySchema, key: string, draft: Draft): unknown {
  const value = readNode(node, part, [key], draft.places);
  if (node === null) draft.places.set(pathKey([key]), { offset: draft.offset, raw: '' });
  return value;
}

export const missingTop = (key: string, how: string, draft: Draft): Problem => ({
  offset: draft.places.get(pathKey([key]))?.offset ?? draft.offset,
  path: [key],
  got: null,
  say: () =>
    draft.written.has(key)
      ? `The key ${key} has nothing behind it. ${how}`
      : `The key ${key} is missing. ${how}`,
});
