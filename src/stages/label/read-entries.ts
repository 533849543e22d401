import type { Node } from 'yaml';
import type { ToothRef } from '../../trade/tooth-ref.js';
import { type SidecarSchema, toCanalEntry, toImageEntry, type Written } from '../../trade/visit/index.js';
import type { CanalEntry, ImageEntry } from '../../trade/visit-document.js';
import { type Draft, missingTop, REFUSING, readTop } from './draft.js';
import { problemsOf } from './issue-problems.js';
import type { Problem } from './problem.js';
import { pathKey } from './read-node.js';
import { type AnySchema, bare, defOf } from './schema-at.js';

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

export function readCanals(node: Node | null, schema: SidecarSchema, draft: Draft): CanalEntry[] {
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

export function readImages(
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
    const line = lineAt(draft.places.get(pathKey(['images', at]))?.offset ?? draft.offset);
    if (result.success) {
      const image = toImageEntry(result.data as Written['images'][number], line, tooth);
      draft.imageAt.set(image, at);
      images.push(image);
      return;
    }
    const problems = problemsOf(result.error.issues, entries.element, ['images', at], draft.places);
    draft.holding.push(...problems);
    holdFile(value, problems, at, line, draft);
  });
  return images;
}

/** An entry that names its picture holds it, so that it is not taken for one that nobody listed. */
function holdFile(value: unknown, problems: Problem[], at: number, line: number, draft: Draft): void {
  const file = (value as { file?: unknown } | null)?.file;
  if (typeof file !== 'string' || file === '') return;
  const fields = problems.map(({ path }) => fieldInEntry(path, at));
  draft.heldFiles.push({ file: file.normalize('NFC'), fields: [...new Set(fields)], line });
}

const fieldInEntry = (path: Problem['path'], at: number): string => {
  const inner = path[0] === 'images' && path[1] === at ? path[2] : path.at(-1);
  return typeof inner === 'string' ? inner : 'the entry';
};
