import { type Document, isMap, isScalar, type Node, type Pair } from 'yaml';
import type { ToothRef } from '../../trade/tooth-ref.js';
import {
  type SidecarSchema,
  toCanalEntry,
  toImageEntry,
  toVisitDocument,
  type Written,
  type WrittenParts,
} from '../../trade/visit/index.js';
import type { CanalEntry, ImageEntry, VisitDocument } from '../../trade/visit-document.js';
import { problemsOf, unknownKey } from './issue-problems.js';
import type { Problem } from './problem.js';
import { type Places, pathKey, readNode } from './read-node.js';
import { type AnySchema, bare, defOf } from './schema-at.js';

/** One YAML document, read. `refusing` problems refuse the whole file, `holding` ones an entry or a key. */
export interface Draft {
  document: VisitDocument;
  refusing: Problem[];
  holding: Problem[];
  heldFiles: { file: string; fields: string[] }[];
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

type TopKey = keyof Written;

/** Keys a mistake in which refuses the file: whose tooth, and whose picture, it would be unclear. */
const REFUSING: readonly string[] = ['patient', 'tooth', 'images'];

const NO_TOOTH: ToothRef = { supernumerary: 'unknown' };

/** @param lineAt 1-based line of an offset in the text */
export function readDocument(
  yaml: Document.Parsed,
  schema: SidecarSchema,
  lineAt: (offset: number) => number,
): Draft {
  const places: Places = new Map();
  const offset = yaml.contents?.range?.[0] ?? yaml.range[0];
  places.set(pathKey([]), { offset, raw: null });
  const draft = emptyDraft(places, offset);
  if (!isMap(yaml.contents)) {
    draft.refusing.push({
      offset,
      path: [],
      got: null,
      say: () =>
        'A sidecar is a group of keys, at least tooth and images, each followed by a colon. Compare with the example.',
    });
    return draft;
  }
  const nodes = topNodes(yaml.contents.items as Pair<Node, Node | null>[], schema, draft);
  const parts = readParts(nodes, schema, draft);
  const canals = readCanals(nodes.get('canals') ?? null, schema, draft);
  const images = readImages(nodes.get('images') ?? null, schema, draft, parts.tooth ?? NO_TOOTH, lineAt);
  draft.toothKnown = parts.tooth !== undefined;
  draft.document = toVisitDocument(
    { ...parts, tooth: parts.tooth ?? NO_TOOTH } as WrittenParts,
    canals,
    images,
  );
  return draft;
}

const emptyDraft = (places: Places, offset: number): Draft => ({
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

function topNodes(
  items: Pair<Node, Node | null>[],
  schema: SidecarSchema,
  draft: Draft,
): Map<string, Node | null> {
  const nodes = new Map<string, Node | null>();
  const allowed = Object.keys(schema.shape);
  for (const pair of items) {
    const key = isScalar(pair.key) ? String(pair.key.value ?? '').trim() : '';
    if (Object.hasOwn(schema.shape, key)) {
      nodes.set(key, pair.value);
      continue;
    }
    draft.places.set(pathKey([key]), { offset: pair.key.range?.[0] ?? draft.offset, raw: null });
    draft.refusing.push(unknownKey(key, allowed, [], draft.places));
  }
  draft.written = new Set(nodes.keys());
  return nodes;
}

/** Every key but the two lists that are read entry by entry. */
function readParts(nodes: Map<string, Node | null>, schema: SidecarSchema, draft: Draft): Partial<Written> {
  const parts: Record<string, unknown> = {};
  for (const key of Object.keys(schema.shape) as TopKey[]) {
    if (key === 'canals' || key === 'images') continue;
    const part = schema.shape[key] as AnySchema;
    const node = nodes.get(key) ?? null;
    const value = nodes.has(key) ? readTop(node, part, key, draft) : undefined;
    if (key === 'tooth' && value === undefined) {
      draft.refusing.push(missingTop('tooth', 'Write for example tooth: {fdi: 46}.', draft));
      continue;
    }
    const result = part.safeParse(value);
    if (result.success) parts[key] = result.data;
    else
      (REFUSING.includes(key) ? draft.refusing : draft.holding).push(
        ...problemsOf(result.error.issues, part, [key], draft.places),
      );
  }
  return parts as Partial<Written>;
}

function readTop(node: Node | null, part: AnySchema, key: string, draft: Draft): unknown {
  const value = readNode(node, part, [key], draft.places);
  if (node === null) draft.places.set(pathKey([key]), { offset: draft.offset, raw: '' });
  return value;
}

const missingTop = (key: string, how: string, draft: Draft): Problem => ({
  offset: draft.places.get(pathKey([key]))?.offset ?? draft.offset,
  path: [key],
  got: null,
  say: () =>
    draft.written.has(key)
      ? `The key ${key} has nothing behind it. ${how}`
      : `The key ${key} is missing. ${how}`,
});

interface Entries {
  element: AnySchema;
  values: unknown[];
}

/** The entries of a list key, or null when it is absent or no list; the latter is told. */
function readEntries(
  node: Node | null,
  key: 'canals' | 'images',
  schema: SidecarSchema,
  draft: Draft,
): Entries | null {
  const list = bare(schema.shape[key] as AnySchema);
  const value = draft.written.has(key) ? readTop(node, list, key, draft) : undefined;
  if (value === undefined) return null;
  const def = defOf(list);
  const problems = Array.isArray(value) ? tooMany(value, key, draft) : notAList(value, list, key, draft);
  if (problems.length === 0 && Array.isArray(value) && def.type === 'array') {
    return { element: def.element, values: value };
  }
  (REFUSING.includes(key) ? draft.refusing : draft.holding).push(...problems);
  return null;
}

/** As the schema has it; entries are checked one by one, so the schema's own limit never sees the list. */
const MOST = { canals: 20, images: 1000 };

const tooMany = (values: unknown[], key: 'canals' | 'images', draft: Draft): Problem[] =>
  values.length <= MOST[key]
    ? []
    : [
        {
          offset: draft.places.get(pathKey([key]))?.offset ?? draft.offset,
          path: [key],
          got: null,
          say: () => `This list has more than ${MOST[key]} entries. Shorten it.`,
        },
      ];

const notAList = (value: unknown, list: AnySchema, key: string, draft: Draft): Problem[] =>
  problemsOf(list.safeParse(value).error?.issues ?? [], list, [key], draft.places);

function readCanals(node: Node | null, schema: SidecarSchema, draft: Draft): CanalEntry[] {
  const entries = readEntries(node, 'canals', schema, draft);
  if (entries === null) return [];
  const canals: CanalEntry[] = [];
  entries.values.forEach((value, at) => {
    const result = entries.element.safeParse(value);
    if (!result.success) {
      draft.holding.push(...problemsOf(result.error.issues, entries.element, ['canals', at], draft.places));
      return;
    }
    const canal = toCanalEntry(result.data as NonNullable<Written['canals']>[number]);
    draft.canalAt.set(canal, at);
    canals.push(canal);
  });
  return canals;
}

function readImages(
  node: Node | null,
  schema: SidecarSchema,
  draft: Draft,
  tooth: ToothRef,
  lineAt: (offset: number) => number,
): ImageEntry[] {
  if (!draft.written.has('images')) {
    draft.refusing.push(
      missingTop('images', 'List the pictures, one entry each with file, stage and view.', draft),
    );
    return [];
  }
  const entries = readEntries(node, 'images', schema, draft);
  if (entries === null) {
    const told = draft.refusing.some(({ path }) => path[0] === 'images');
    if (!told)
      draft.refusing.push(
        missingTop('images', 'List the pictures, or write images: [] if there are none.', draft),
      );
    return [];
  }
  const images: ImageEntry[] = [];
  entries.values.forEach((value, at) => {
    const result = entries.element.safeParse(value);
    if (result.success) {
      const line = lineAt(draft.places.get(pathKey(['images', at]))?.offset ?? draft.offset);
      const image = toImageEntry(result.data as Written['images'][number], line, tooth);
      draft.imageAt.set(image, at);
      images.push(image);
      return;
    }
    const problems = problemsOf(result.error.issues, entries.element, ['images', at], draft.places);
    draft.holding.push(...problems);
    holdFile(value, problems, at, draft);
  });
  return images;
}

/** An entry that names its picture holds it, so that it is not taken for one that nobody listed. */
function holdFile(value: unknown, problems: Problem[], at: number, draft: Draft): void {
  const file = (value as { file?: unknown } | null)?.file;
  if (typeof file !== 'string' || file === '') return;
  const fields = problems.map(({ path }) => fieldInEntry(path, at));
  draft.heldFiles.push({ file: file.normalize('NFC'), fields: [...new Set(fields)] });
}

const fieldInEntry = (path: Problem['path'], at: number): string => {
  const inner = path[0] === 'images' && path[1] === at ? path[2] : path.at(-1);
  return typeof inner === 'string' ? inner : 'the entry';
};
