import { viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';

/** One field of an image file directory (TIFF 6.0, section 2). */
export interface TiffEntry {
  tag: number;
  type: number;
  count: number;
  /** The value's bytes; null when they lie outside the file or the type is unknown. */
  bytes: Buffer | null;
}

export interface TiffDirectory {
  entries: Map<number, TiffEntry>;
  /** Offset of the next directory, 0 for none. */
  next: number;
}

/** Bytes of one value by field type 1-12; 13 is an offset as IFD. */
const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4];

/** More pages than any scan has; each costs a look. */
const MOST_PAGES = 1000;

export class TiffReader {
  readonly file: Buffer;
  readonly little: boolean;

  constructor(bytes: Uint8Array) {
    this.file = viewOf(bytes);
    this.little = this.file[0] === 0x49;
    const version = this.u16(2);
    if (version === 43) refuseUnusual('TIFF', 'the BigTIFF layout');
    if (version !== 42) refuseDamaged('TIFF', 'its header is broken');
  }

  u16(at: number): number {
    return this.little ? this.file.readUInt16LE(at) : this.file.readUInt16BE(at);
  }

  u32(at: number): number {
    return this.little ? this.file.readUInt32LE(at) : this.file.readUInt32BE(at);
  }

  directory(at: number): TiffDirectory {
    const count = this.u16(at);
    const end = at + 2 + 12 * count;
    if (count === 0 || at < 8 || end + 4 > this.file.length) refuseDamaged('TIFF', 'its directory is broken');
    const entries = new Map<number, TiffEntry>();
    for (let index = 0; index < count; index++) {
      const entry = this.#entry(at + 2 + 12 * index);
      if (!entries.has(entry.tag)) entries.set(entry.tag, entry);
    }
    return { entries, next: this.u32(end) };
  }

  #entry(at: number): TiffEntry {
    const [tag, type, count] = [this.u16(at), this.u16(at + 2), this.u32(at + 4)];
    const size = (TYPE_BYTES[type] ?? 0) * count;
    const from = size <= 4 ? at + 8 : this.u32(at + 8);
    const inside = size > 0 && from + size <= this.file.length;
    return { tag, type, count, bytes: inside ? this.file.subarray(from, from + size) : null };
  }

  /** All pages in order; refused when a directory points back to one already read. */
  pages(): TiffDirectory[] {
    const seen = new Set<number>();
    const pages: TiffDirectory[] = [];
    for (let at = this.u32(4); at !== 0; at = pages.at(-1)!.next) {
      if (seen.has(at)) refuseDamaged('TIFF', 'its directory points back to itself');
      if (pages.length >= MOST_PAGES) refuseUnusual('TIFF', 'more pages than any scan has');
      seen.add(at);
      pages.push(this.directory(at));
    }
    if (pages.length === 0) refuseDamaged('TIFF', 'there is no picture in it');
    return pages;
  }

  /** Whole numbers of a BYTE, SHORT or LONG field; `fallback` when the field is absent. */
  numbers(page: TiffDirectory, tag: number, fallback: number[] | null = null): number[] {
    const entry = page.entries.get(tag);
    if (!entry) return fallback ?? refuseDamaged('TIFF', 'a needed field is missing');
    const { bytes, type, count } = entry;
    if (!bytes || ![1, 3, 4].includes(type)) refuseDamaged('TIFF', 'a needed field is broken');
    return Array.from({ length: count }, (_, index) => {
      if (type === 1) return bytes[index]!;
      if (type === 3) return this.little ? bytes.readUInt16LE(2 * index) : bytes.readUInt16BE(2 * index);
      return this.little ? bytes.readUInt32LE(4 * index) : bytes.readUInt32BE(4 * index);
    });
  }

  number(page: TiffDirectory, tag: number, fallback: number | null = null): number {
    const values = this.numbers(page, tag, fallback === null ? null : [fallback]);
    if (values.length !== 1) refuseDamaged('TIFF', 'a needed field is broken');
    return values[0]!;
  }
}

export const isTiff = (bytes: Uint8Array): boolean =>
  ['II*\0', 'MM\0*', 'II+\0', 'MM\0+'].includes(viewOf(bytes).toString('latin1', 0, 4));
