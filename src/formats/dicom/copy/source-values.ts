import { latin1At, viewOf } from '../../bytes.js';
import type { DicomFile } from '../read-dicom.js';
import type { WalkedElement } from '../walk-elements.js';

/** The elements of a source around one frame of it, and the bytes they lie in. */
export interface Source {
  bytes: Uint8Array;
  bigEndian: boolean;
  /** Searched in this order: the object itself, then what it says of this frame, then of all its frames. */
  levels: readonly (readonly WalkedElement[])[];
}

const PER_FRAME = 0x52009230;
const SHARED = 0x52009229;
/** Functional groups whose attributes a frame of its own needs (PS3.3, C.7.6.16.2): measures, position, orientation, VOI LUT, value transformation. */
const GROUPS = [0x00289110, 0x00209113, 0x00209116, 0x00289132, 0x00289145];

/** @param frame counts from 1 */
export function sourceOf(file: DicomFile, frame: number): Source {
  const { elements, bytes, syntax } = file;
  const groupsIn = (tag: number, at: number): WalkedElement[][] => {
    const item = elements.find((element) => element.tag === tag)?.items?.[at] ?? [];
    return GROUPS.map((group) => item.find((element) => element.tag === group)?.items?.[0] ?? []);
  };
  const levels = [elements, ...groupsIn(PER_FRAME, frame - 1), ...groupsIn(SHARED, 0)];
  return { bytes, bigEndian: syntax.bigEndian, levels };
}

/** The elements of one item, alone. */
export const itemSource = (source: Source, item: readonly WalkedElement[]): Source => ({
  ...source,
  levels: [item],
});

export function findElement({ levels }: Source, tag: number): WalkedElement | null {
  for (const level of levels) {
    const found = level.find((element) => element.tag === tag);
    if (found && (found.length > 0 || found.items)) return found;
  }
  return null;
}

/** VRs a value may carry in the file and still be read as another: unknown ones, and those that differ by context. */
const READ_AS: Record<string, readonly string[]> = {
  US: ['US', 'SS', 'UN'],
  SS: ['US', 'SS', 'UN'],
  OW: ['OW', 'OB', 'US', 'SS', 'UN'],
};

/** The element when it has (or may have) this VR; one of another kind is not what the tag stands for. */
export function findValue(source: Source, tag: number, vr: string): WalkedElement | null {
  const element = findElement(source, tag);
  if (!element || element.items) return null;
  const accepted = READ_AS[vr] ?? [vr, 'UN'];
  return element.vr === null || accepted.includes(element.vr) ? element : null;
}

/** Values of a text element, without the padding of each. Bytes outside printable ASCII make no value. */
export function textsOf(source: Source, tag: number, vr: string): string[] {
  const element = findValue(source, tag, vr);
  if (!element || element.length > MOST_TEXT_BYTES) return [];
  const whole = latin1At(source.bytes, element.at, element.length).replace(/[\0 ]+$/, '');
  if (!/^[\x20-\x7e]*$/.test(whole)) return [];
  return whole.split('\\').map((value) => value.trim());
}

/** No value that is kept is longer; windows can be many. */
const MOST_TEXT_BYTES = 4096;

/** Shorts as unsigned numbers. */
export function wordsOf(source: Source, tag: number, vr: 'US' | 'SS' | 'OW'): number[] {
  const element = findValue(source, tag, vr);
  if (!element || element.length % 2 !== 0) return [];
  const view = viewOf(source.bytes).subarray(element.at, element.at + element.length);
  // UN holds little endian whatever the file is (PS3.5, 6.2.2); in OB a table of bytes stands in their order
  const big = source.bigEndian && element.vr !== 'UN' && element.vr !== 'OB';
  return Array.from({ length: view.length / 2 }, (_, at) =>
    big ? view.readUInt16BE(2 * at) : view.readUInt16LE(2 * at),
  );
}
