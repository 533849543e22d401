import type { FormatName } from '../core/format-name.js';
import type { Outcome } from '../core/outcome.js';

/**
 * The contract of a picture format. Bytes come in, bytes and values leave; the input is never changed, bad input
 * never throws, and nothing is decoded to pixels. What may remain is an allow-list: what a format does not name
 * is dropped when it is metadata, and holds the picture when it could change pixels.
 */
export interface Format {
  readonly name: FormatName;
  /** True for the format's signature; the whole file or at least its first 4 KB. */
  recognises(head: Uint8Array): boolean;
  /** Size, depth and every block of metadata, wherever it stands in the file. */
  survey(bytes: Uint8Array): Outcome<Survey>;
  /** The same picture data in a file rebuilt from the allow-list. Stripping twice gives the same bytes. */
  strip(bytes: Uint8Array, options?: StripOptions): Outcome<StrippedParts> | Promise<Outcome<StrippedParts>>;
  /** Cuts what stands inside the picture data of a stripped file and is no part of the picture. Costs a pass over it. */
  trim?(bytes: Uint8Array): Outcome<Uint8Array>;
  /** A second, independent read: kinds of everything in a file that strip would not have written. */
  leftovers(bytes: Uint8Array): string[];
  /** Formats that the common decoder does not know bring their own. Absent: the common one decodes. */
  decode?(bytes: Uint8Array, options: DecodeOptions): Promise<Outcome<StoredPixels>>;
  /** What the stripped file is when it is another format than the original (HEIC becomes PNG). */
  strippedAs?: FormatName;
}

/** What only some formats need. */
export interface StripOptions {
  /** Which frame of a DICOM object; counts from 1. */
  frame?: number;
  /** Key of the map from source UIDs to new ones; 32 bytes. */
  uidKey?: Uint8Array;
  /** Pixels above which nothing is decoded. */
  pixelLimit?: number;
}

export interface DecodeOptions {
  pixelLimit: number;
  frame?: number;
}

/** Samples exactly as stored, before any rendering: host byte order, channels interleaved. */
export interface StoredPixels {
  data: Uint8Array | Uint16Array | Int16Array;
  widthPx: number;
  heightPx: number;
  /** 1 grey or palette index, 3 colour. */
  channels: 1 | 3;
  bitsPerChannel: 8 | 16;
}

/** A format that is told by its bytes and held. */
export interface HeldFormat {
  readonly name: FormatName;
  recognises(head: Uint8Array): boolean;
}

export interface Survey {
  /** Stored pixels, before the orientation tag is applied. */
  widthPx: number;
  heightPx: number;
  /** The decoder of this format turns the picture itself, so an orientation tag must not be applied again. */
  upright?: true;
  /** 8 or 16; fewer bits count as 8. */
  bitsPerChannel: number;
  grey: boolean;
  blocks: MetadataBlock[];
  notes: string[];
}

/** One carrier of metadata. `field` names it further (a PNG keyword's kind, a TIFF tag); never a value. */
export interface MetadataBlock {
  kind: 'exif' | 'xmp' | 'iptc' | 'text' | 'icc' | 'other';
  carrier: string;
  field: string;
  bytes: Uint8Array;
}

export interface StrippedParts {
  /** The file in order; slices of the input wherever the data is unchanged. */
  parts: StrippedPart[];
  /** Kinds of what was removed, and how many. */
  removed: Record<string, number>;
  /** Sentences for a person. */
  notes: string[];
  /** What is searched for identifying strings, where the rest was written anew from numbers; absent: everything. */
  searched?: Uint8Array;
}

export interface StrippedPart {
  bytes: Uint8Array;
  /** Coded picture data, as against the headers and tables around it. */
  picture: boolean;
}

/** More pixels than this are never opened: a decoder would need a gigabyte. */
export const LIMIT_PX = 100_000_000;
