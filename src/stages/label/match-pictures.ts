import type { ImageEntry } from '../../trade/visit-document.js';
import { baseOf, fileKey } from './same-file.js';
import type { SidecarDocument } from './sidecar-error.js';

export interface PictureMatch {
  /** In the order of the documents; keys are names as the folder has them. */
  documents: {
    labels: Map<string, ImageEntry>;
    /** Pictures whose entry has a mistake, with the fields at fault. */
    held: Map<string, string[]>;
    /** Entries whose picture is not in the folder; `line` is null when the entry's is not known. */
    absent: { file: string; line: number | null }[];
  }[];
  /** Pictures that no document lists. */
  unlabelled: string[];
  /** Names that differ only in capitals, accents' encoding or slashes, together. */
  collisions: string[][];
}

/**
 * Which picture each entry is about: by path inside the visit folder, or by base name where only one picture has it.
 * Names are compared composed (NFC) and caseless, since cameras, disks and typists disagree on both.
 */
export function matchPictures(documents: readonly SidecarDocument[], names: readonly string[]): PictureMatch {
  const byKey = groupBy(names, fileKey);
  const collisions = [...byKey.values()].filter((group) => group.length > 1);
  const byBase = groupBy(names, (name) => baseOf(fileKey(name)));
  const find = (file: string): string[] => {
    const key = fileKey(file);
    const exact = byKey.get(key);
    if (exact) return exact;
    const same = key.includes('/') ? undefined : byBase.get(key);
    return same?.length === 1 ? same : [];
  };
  const matched = documents.map((document) => matchDocument(document, find));
  const listed = new Set([
    ...matched.flatMap(({ labels, held }) => [...labels.keys(), ...held.keys()]),
    ...collisions.flat(),
  ]);
  return { documents: matched, unlabelled: names.filter((name) => !listed.has(name)), collisions };
}

function groupBy(names: readonly string[], keyOf: (name: string) => string): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const name of names) groups.set(keyOf(name), [...(groups.get(keyOf(name)) ?? []), name]);
  return groups;
}

function matchDocument(
  { document, heldFiles }: SidecarDocument,
  find: (file: string) => string[],
): PictureMatch['documents'][number] {
  const labels = new Map<string, ImageEntry>();
  const held = new Map<string, string[]>();
  const absent: { file: string; line: number | null }[] = [];
  for (const image of document.images) {
    const found = find(image.file);
    if (found.length === 0) absent.push({ file: image.file, line: image.line });
    for (const name of found) {
      if (labels.has(name)) held.set(name, ['file']);
      else labels.set(name, image);
    }
  }
  for (const { file, fields, line } of heldFiles) {
    const found = find(file);
    if (found.length === 0) absent.push({ file, line: line ?? null });
    for (const name of found) held.set(name, [...new Set([...(held.get(name) ?? []), ...fields])]);
  }
  for (const name of held.keys()) labels.delete(name);
  return { labels, held, absent };
}
