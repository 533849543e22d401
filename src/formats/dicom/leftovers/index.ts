import { latin1At, startsWith, viewOf } from '../../bytes.js';
import { leftoversOf, outcomeOf } from '../../refusal.js';
import { type WalkedElement, walkElements, walkFileMeta } from '../walk-elements.js';
import { ALLOWED, ALLOWED_META, type Allowed, type AllowedElements } from './allowed-elements.js';

const HEADER_BYTES = 132;

/**
 * The tags of everything in a copy that is not on the list of what may stand there, or whose value is another than it
 * may be; empty for a clean copy. Reads by itself: neither the library's parser nor the writer has a part in it.
 */
export const dicomLeftovers = (bytes: Uint8Array): string[] =>
  leftoversOf(() => {
    const read = outcomeOf('DICOM', () => {
      const { elements: meta, end } = walkFileMeta(bytes, HEADER_BYTES);
      const elements = walkElements(bytes, { explicit: true, bigEndian: false }, end);
      return [...strayIn(bytes, meta, ALLOWED_META), ...strayIn(bytes, elements, ALLOWED)];
    });
    if (read.kind !== 'kept' || !startsWith(bytes, 'DICM', HEADER_BYTES - 4)) return ['unreadable'];
    const preamble = viewOf(bytes).subarray(0, HEADER_BYTES - 4);
    return [...new Set([...(preamble.some((byte) => byte !== 0) ? ['preamble'] : []), ...read.value])];
  });

const nameOf = (tag: number): string => {
  const digits = tag.toString(16).padStart(8, '0');
  return `(${digits.slice(0, 4)},${digits.slice(4)})`;
};

function strayIn(bytes: Uint8Array, elements: readonly WalkedElement[], allowed: AllowedElements): string[] {
  return elements.flatMap((element) => {
    const rule = allowed.get(element.tag)?.find(({ vr }) => vr === element.vr);
    if (!rule || !fits(bytes, element, rule, elements)) return [nameOf(element.tag)];
    return rule.kind === 'items'
      ? (element.items ?? []).flatMap((item) => strayIn(bytes, item, rule.of))
      : [];
  });
}

function fits(
  bytes: Uint8Array,
  { tag, at, length, items, fragments }: WalkedElement,
  rule: Allowed,
  around: readonly WalkedElement[],
): boolean {
  if (rule.kind === 'items') return items !== null;
  if (items || fragments) return false;
  // a value ends with one byte of padding at most, whatever stands behind would show
  const values = (): string[] =>
    latin1At(bytes, at, length)
      .replace(/[ \0]$/, '')
      .split('\\');
  switch (rule.kind) {
    case 'empty':
      return length === 0;
    case 'uid':
      return values().every((value) => /^(?:1\.2\.840\.10008(?:\.\d{1,5})+|2\.25\.\d{1,39})$/.test(value));
    case 'number':
      return values().length <= rule.most && (length === 0 || values().every(isNumber));
    case 'is':
      return length === 0 || values().every((value) => rule.words.test(value));
    case 'bytes':
      return length <= rule.most;
    case 'table':
      return length === 2 * entriesOf(bytes, tag, around);
    case 'samples':
      return length === samplesLength(bytes, around);
  }
}

/** A decimal string has at most 16 characters (PS3.5, table 6.2-1). */
const isNumber = (value: string): boolean =>
  value.length <= 16 && /^-?\d+(?:\.\d+)?(?:[eE][-+]?\d{1,3})?$/.test(value);

function wordIn(bytes: Uint8Array, elements: readonly WalkedElement[], tag: number): number {
  const element = elements.find((one) => one.tag === tag);
  return element && element.length >= 2 ? viewOf(bytes).readUInt16LE(element.at) : 0;
}

/** The first number of a table's descriptor; 0 stands for 65536 (PS3.3, C.7.6.3.1.5 and C.11.1.1.1). */
function entriesOf(bytes: Uint8Array, tag: number, around: readonly WalkedElement[]): number {
  const descriptor = tag === 0x00283006 ? 0x00283002 : tag - 0x100;
  return wordIn(bytes, around, descriptor) || 65_536;
}

/** Even, as every length is (PS3.5, 7.1.1). */
function samplesLength(bytes: Uint8Array, around: readonly WalkedElement[]): number {
  const [rows, columns, samples, bits] = [0x00280010, 0x00280011, 0x00280002, 0x00280100].map((tag) =>
    wordIn(bytes, around, tag),
  ) as [number, number, number, number];
  const length = (rows * columns * samples * bits) / 8;
  return length + (length % 2);
}
