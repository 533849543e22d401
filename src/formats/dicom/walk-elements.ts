import { latin1At, viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';

/** One data element as it lies in the bytes. Every place and length was checked against the bytes around it. */
export interface WalkedElement {
  /** Group and element in one number, 0x00100010 for (0010,0010). */
  tag: number;
  /** Null in implicit VR. */
  vr: string | null;
  /** First byte of the value, and its bytes. */
  at: number;
  length: number;
  /** The items of a sequence, each with its own elements. */
  items: WalkedElement[][] | null;
  /** Encapsulated pixel data: the offset table first, then the fragments (PS3.5, A.4). */
  fragments: { at: number; length: number }[] | null;
}

export interface Layout {
  explicit: boolean;
  bigEndian: boolean;
}

export const PIXEL_DATA = 0x7fe00010;

const ITEM = 0xfffee000;
const ITEM_END = 0xfffee00d;
const SEQUENCE_END = 0xfffee0dd;
const UNDEFINED = 0xffffffff;
/** An image object nests four or five deep; a deeper one is built to exhaust its readers. */
const MOST_DEEP = 16;
const MOST_ELEMENTS = 200_000;

/** PS3.5, table 6.2-1 and 7.1.2: value representations with a length of two bytes, and of four. */
const SHORT = new Set('AE AS AT CS DA DS DT FD FL IS LO LT PN SH SL SS ST TM UI UL US'.split(' '));
const LONG = new Set('OB OD OF OL OV OW SQ SV UC UN UR UT UV'.split(' '));

/**
 * Every element of `bytes` between two places, at every depth; PS3.5, 7.1 to 7.5. Refuses (for `outcomeOf`) what
 * does not fill that stretch to its last byte, repeats an element, or nests without end. No value is looked into.
 */
export function walkElements(
  bytes: Uint8Array,
  layout: Layout,
  from = 0,
  to = bytes.length,
): WalkedElement[] {
  return new Walk(bytes).dataSet(from, to, layout, 0).elements;
}

/** The file meta group at `from`: explicit VR, little endian, whatever follows (PS3.10, 7.1). */
export function walkFileMeta(bytes: Uint8Array, from: number): { elements: WalkedElement[]; end: number } {
  return new Walk(bytes).fileMeta(from);
}

class Walk {
  readonly #file: Buffer;
  #count = 0;

  constructor(readonly bytes: Uint8Array) {
    this.#file = viewOf(bytes);
  }

  /** Up to `to`, or up to the end mark of an item whose length is not given (`open`). */
  dataSet(from: number, to: number, layout: Layout, depth: number, open = false) {
    if (depth > MOST_DEEP) return refuseUnusual('DICOM', 'sequences nested too deep');
    const elements: WalkedElement[] = [];
    const seen = new Set<number>();
    for (let at = from; at < to; ) {
      if (open && this.#tag(at, layout) === ITEM_END)
        return { elements, end: this.#pastMark(at, to, layout) };
      const { element, end } = this.#element(at, to, layout, depth);
      if (seen.has(element.tag)) refuseUnusual('DICOM', 'the same element twice');
      seen.add(element.tag);
      elements.push(element);
      at = end;
    }
    return open ? refuseDamaged('DICOM', 'it ends too early') : { elements, end: to };
  }

  fileMeta(from: number) {
    const layout = { explicit: true, bigEndian: false };
    const elements: WalkedElement[] = [];
    let at = from;
    while (at + 8 <= this.bytes.length && this.#u16(at, layout) === 2) {
      const { element, end } = this.#element(at, this.bytes.length, layout, 0);
      elements.push(element);
      at = end;
    }
    return { elements, end: at };
  }

  #element(start: number, to: number, layout: Layout, depth: number) {
    if (++this.#count > MOST_ELEMENTS) refuseUnusual('DICOM', 'too many elements');
    const tag = this.#tag(start, layout);
    if (tag >>> 16 === 0xfffe) refuseDamaged('DICOM', 'its elements are out of step');
    const { vr, at, length } = this.#header(start, layout);
    if (at > to || (length !== UNDEFINED && at + length > to))
      refuseDamaged('DICOM', 'an element is longer than what holds it');
    const element: WalkedElement = { tag, vr, at, length, items: null, fragments: null };
    if (length === UNDEFINED && tag === PIXEL_DATA) return this.#encapsulated(element, to, layout);
    if (!this.#isSequence(element, layout)) return { element, end: at + length };
    // UN of undefined length holds implicit VR, little endian (PS3.5, 6.2.2, note 2)
    if (vr === 'UN' && layout.bigEndian) refuseUnusual('DICOM', 'a sequence of unknown kind');
    const inside = vr === 'UN' ? { ...layout, explicit: false } : layout;
    return this.#sequence(element, to, inside, depth);
  }

  #header(start: number, layout: Layout): { vr: string | null; at: number; length: number } {
    if (!layout.explicit) return { vr: null, at: start + 8, length: this.#u32(start + 4, layout) };
    const vr = latin1At(this.bytes, start + 4, 2);
    if (SHORT.has(vr)) return { vr, at: start + 8, length: this.#u16(start + 6, layout) };
    if (LONG.has(vr)) return { vr, at: start + 12, length: this.#u32(start + 8, layout) };
    return refuseDamaged('DICOM', 'its elements are out of step');
  }

  /** In implicit VR a sequence of given length is told by its first item; private ones stay closed. */
  #isSequence({ tag, vr, at, length }: WalkedElement, layout: Layout): boolean {
    if (length === UNDEFINED && vr !== null && vr !== 'SQ' && vr !== 'UN')
      refuseDamaged('DICOM', 'an element has no length');
    if (length === UNDEFINED || vr === 'SQ') return true;
    const closed = vr !== null || length < 8 || tag === PIXEL_DATA || (tag >>> 16) % 2 === 1;
    return !closed && this.#tag(at, layout) === ITEM;
  }

  #sequence(element: WalkedElement, to: number, layout: Layout, depth: number) {
    const open = element.length === UNDEFINED;
    const until = open ? to : element.at + element.length;
    const items: WalkedElement[][] = [];
    let at = element.at;
    while (open || at < until) {
      const tag = this.#tag(at, layout);
      if (open && tag === SEQUENCE_END) break;
      if (tag !== ITEM) refuseDamaged('DICOM', 'a sequence has something between its items');
      const length = this.#u32(at + 4, layout);
      const inside = at + 8;
      const end = length === UNDEFINED ? until : inside + length;
      if (inside > until || end > until) refuseDamaged('DICOM', 'an item is longer than its sequence');
      const item = this.dataSet(inside, end, layout, depth + 1, length === UNDEFINED);
      items.push(item.elements);
      at = item.end;
    }
    const length = at - element.at;
    return { element: { ...element, length, items }, end: open ? this.#pastMark(at, to, layout) : until };
  }

  #encapsulated(element: WalkedElement, to: number, layout: Layout) {
    if (!layout.explicit || layout.bigEndian) refuseDamaged('DICOM', 'its picture data has no length');
    const fragments: { at: number; length: number }[] = [];
    let at = element.at;
    for (; this.#tag(at, layout) !== SEQUENCE_END; ) {
      if (this.#tag(at, layout) !== ITEM) refuseDamaged('DICOM', 'its picture data is out of step');
      if (++this.#count > MOST_ELEMENTS) refuseUnusual('DICOM', 'too many elements');
      const length = this.#u32(at + 4, layout);
      if (at + 8 + length > to) refuseDamaged('DICOM', 'it ends too early');
      fragments.push({ at: at + 8, length });
      at += 8 + length;
    }
    const length = at - element.at;
    return { element: { ...element, length, fragments }, end: this.#pastMark(at, to, layout) };
  }

  /** Past an end mark, whose own length is zero (PS3.5, table 7.5-3). */
  #pastMark(at: number, to: number, layout: Layout): number {
    if (this.#u32(at + 4, layout) !== 0) refuseDamaged('DICOM', 'an end mark has a length');
    if (at + 8 > to) refuseDamaged('DICOM', 'an element is longer than what holds it');
    return at + 8;
  }

  #tag = (at: number, layout: Layout): number => this.#u16(at, layout) * 0x10000 + this.#u16(at + 2, layout);
  #u16 = (at: number, { bigEndian }: Layout): number =>
    bigEndian ? this.#file.readUInt16BE(at) : this.#file.readUInt16LE(at);
  #u32 = (at: number, { bigEndian }: Layout): number =>
    bigEndian ? this.#file.readUInt32BE(at) : this.#file.readUInt32LE(at);
}
