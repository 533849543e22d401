import { tally } from '../bytes.js';
import { ALLOWED } from './leftovers/allowed-elements.js';
import type { DicomFile } from './read-dicom.js';
import type { WalkedElement } from './walk-elements.js';

/** Kinds of what an object holds and its copy does not, at every depth, and how many of each. */
export function removedFrom({ elements, file, meta }: DicomFile): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const element of everyElement(elements)) {
    const rules = ALLOWED.get(element.tag);
    const stays = rules?.some(({ kind }) => kind !== 'empty');
    if (!stays && element.length > 0) tally(counts, kindOf(element.tag));
  }
  if (meta && file.subarray(0, 128).some((byte) => byte !== 0)) tally(counts, 'preamble');
  return counts;
}

/** Sequences, then what is in them. */
export function* everyElement(elements: readonly WalkedElement[]): Generator<WalkedElement> {
  for (const element of elements) {
    yield element;
    for (const item of element.items ?? []) yield* everyElement(item);
  }
}

function kindOf(tag: number): string {
  const group = tag >>> 16;
  if (group % 2 === 1) return 'private';
  if (group >= 0x6000 && group <= 0x60ff) return 'overlay';
  if (group === 0x0010) return 'patient';
  return 'object';
}
