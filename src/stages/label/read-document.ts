import { type Document, isMap, isScalar, type Node, type Pair } from 'yaml';
import {
  type SidecarSchema,
  toVisitDocument,
  type Written,
  type WrittenParts,
} from '../../trade/visit/index.js';
import { type Draft, emptyDraft, missingTop, NO_TOOTH, REFUSING, readTop } from './draft.js';
import { problemsOf, unknownKey } from './issue-problems.js';
import { readCanals, readImages } from './read-entries.js';
import { type Places, pathKey } from './read-node.js';
import type { AnySchema } from './schema-at.js';

type TopKey = keyof Written;

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
