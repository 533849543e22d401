import type { Draft } from './draft.js';
import { pathKey } from './read-node.js';
import { fileKey } from './same-file.js';

/**
 * A picture or a canal listed twice in one document: which of the two is right cannot be known, so both are held.
 * @param lineAt 1-based line of an offset in the text
 */
export function holdRepeated(draft: Draft, lineAt: (offset: number) => number): void {
  const images = draft.document.images;
  for (const group of groupsOf(images, (image) => fileKey(image.file))) {
    const places = group.map((image) => draft.imageAt.get(image)!);
    tell(draft, 'images', 'file', places, 'This picture', lineAt);
    const { file, line } = group[0]!;
    draft.heldFiles.push({ file, fields: ['file'], ...(line === null ? {} : { line }) });
    for (const image of group) images.splice(images.indexOf(image), 1);
  }
  const canals = draft.document.canals;
  for (const group of groupsOf(canals, ({ canal }) => canal)) {
    const places = group.map((canal) => draft.canalAt.get(canal)!);
    tell(draft, 'canals', 'canal', places, 'This canal', lineAt);
    for (const canal of group) canals.splice(canals.indexOf(canal), 1);
  }
}

function groupsOf<T>(entries: readonly T[], keyOf: (entry: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const entry of entries) {
    const key = keyOf(entry);
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

function tell(
  draft: Draft,
  list: string,
  key: string,
  places: number[],
  what: string,
  lineAt: (offset: number) => number,
): void {
  const offsetOf = (at: number): number => draft.places.get(pathKey([list, at, key]))?.offset ?? draft.offset;
  const first = lineAt(offsetOf(places[0]!));
  for (const at of places.slice(1)) {
    draft.holding.push({
      offset: offsetOf(at),
      path: [list, at, key],
      got: null,
      say: () => `${what} is listed twice, first on line ${first}. Keep the entry that is right.`,
    });
  }
}
