import { samePrint } from './print.js';
import type { FolderScan, ScannedFile } from './scan-visit-folder.js';

/**
 * Names that differ between two looks at one folder: new, gone, or another print. A file seen only once is not
 * known to be still. Sorted; a name stands once.
 */
export function twoLooks(earlier: FolderScan, later: FolderScan): string[] {
  const before = new Map(earlier.entries.map((entry) => [keyOf(entry), entry]));
  const changed = new Set<string>();
  for (const entry of later.entries) {
    const old = before.get(keyOf(entry));
    before.delete(keyOf(entry));
    if (old === undefined || !sameState(old, entry)) changed.add(entry.name);
  }
  for (const gone of before.values()) changed.add(gone.name);
  return [...changed].sort();
}

const keyOf = (entry: ScannedFile): string => entry.pathBytes.toString('latin1');

function sameState(a: ScannedFile, b: ScannedFile): boolean {
  if (a.kind !== b.kind) return false;
  return a.print === null || b.print === null ? a.print === b.print : samePrint(a.print, b.print);
}
