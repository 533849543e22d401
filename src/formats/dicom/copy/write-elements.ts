import { latin1Bytes } from '../../bytes.js';

/** One data element of a copy. Values are what stands in the file, without the padding to even length. */
export type CopyElement =
  | { tag: number; vr: string; value: Uint8Array }
  | { tag: number; vr: 'SQ'; items: CopyElement[][] };

/** ASCII text; several values joined by backslashes. */
export const text = (tag: number, vr: string, ...values: string[]): CopyElement => ({
  tag,
  vr,
  value: latin1Bytes(values.join('\\')),
});

/** Unsigned shorts, or signed ones as their two bytes. */
export function words(tag: number, vr: 'US' | 'SS' | 'OW', values: ArrayLike<number>): CopyElement {
  const value = Buffer.alloc(2 * values.length);
  for (let at = 0; at < values.length; at++) value.writeUInt16LE(values[at]! & 0xffff, 2 * at);
  return { tag, vr, value };
}

export const sequence = (tag: number, ...items: CopyElement[][]): CopyElement => ({ tag, vr: 'SQ', items });

/** PS3.5, 7.1.2: these have two reserved bytes and a length of four. */
const LONG = new Set(['OB', 'OW', 'SQ', 'UN', 'UT']);
const ITEM = 0xfffee000;

/** PS3.5, 7.1 to 7.5: explicit VR, little endian, ascending tags, every length given. */
export function writeElements(elements: readonly CopyElement[]): Buffer {
  const ordered = elements.toSorted((a, b) => a.tag - b.tag);
  return Buffer.concat(ordered.flatMap(writeElement));
}

function writeElement(element: CopyElement): Buffer[] {
  const value = 'items' in element ? writeItems(element.items) : padded(element.vr, element.value);
  if (!LONG.has(element.vr) && value.length > 0xffff) throw new Error('a value longer than its VR can hold');
  const header = Buffer.alloc(LONG.has(element.vr) ? 12 : 8);
  writeTag(header, element.tag);
  header.write(element.vr, 4, 'latin1');
  if (header.length === 12) header.writeUInt32LE(value.length, 8);
  else header.writeUInt16LE(value.length, 6);
  return [header, value];
}

function writeItems(items: readonly CopyElement[][]): Buffer {
  const parts = items.map((item) => {
    const inside = writeElements(item);
    const header = Buffer.alloc(8);
    writeTag(header, ITEM);
    header.writeUInt32LE(inside.length, 4);
    return Buffer.concat([header, inside]);
  });
  return Buffer.concat(parts);
}

function writeTag(into: Buffer, tag: number): void {
  into.writeUInt16LE(tag >>> 16, 0);
  into.writeUInt16LE(tag & 0xffff, 2);
}

/** PS3.5, 6.2: UIDs and bytes are padded with zero, text with a space. */
function padded(vr: string, value: Uint8Array): Buffer {
  const bytes = Buffer.from(value.buffer, value.byteOffset, value.byteLength);
  if (bytes.length % 2 === 0) return bytes;
  return Buffer.concat([bytes, Buffer.from(vr === 'UI' || vr === 'OB' ? [0] : [32])]);
}
