import type { Reason } from '../../core/reasons.js';
import type { FinderPicture } from '../../finders/finder.js';
import type { AuditedFile, AuditTools } from './audited.js';
import { pixelKey, searchPixels } from './pixels.js';
import type { TermSearch } from './search/build-search.js';
import { findInBytes } from './search/find-in-bytes.js';
import { findKinds } from './search/find-kinds.js';
import { findTerms } from './search/find-terms.js';

/** Beyond these a file is built to exhaust its readers; what is left of it counts as unread. */
export const LIMITS = {
  /** Files within files. */
  depth: 8,
  /** Parts of one audited file: members, attachments, embedded pictures. */
  parts: 10_000,
  /** Bytes that one packed stream may unpack to. */
  streamBytes: 400_000_000,
  /** Bytes that everything packed in one file may unpack to. */
  totalBytes: 1_500_000_000,
} as const;

/** What one file's reading has found so far. Places are built from the outside in: "member 2, page 1, text". */
export class Reading {
  readonly #hits = new Map<string, { where: string; kind: string }>();
  readonly #possible = new Map<string, { where: string; kind: string }>();
  readonly #unread = new Map<string, { where: string; reason: Reason }>();
  readonly #pixelsSeen = new Set<string>();
  #bytesLeft: number = LIMITS.totalBytes;
  #partsLeft: number = LIMITS.parts;

  constructor(
    readonly search: TermSearch,
    readonly tools: AuditTools,
    /** Texts that a person decided to keep on the pictures of this file. */
    readonly kept: readonly string[],
  ) {}

  hit(where: string, kind: string): void {
    this.#hits.set(`${where}\n${kind}`, { where, kind });
  }

  unread(where: string, reason: Reason): void {
    this.#unread.set(`${where}\n${reason.code}`, { where, reason });
  }

  /**
   * Known terms, and kinds. Text of a program's making (keywords, font names, tables of figures) holds numbers that are
   * nobody's: `ofProgram` leaves out kinds and short chart numbers.
   */
  text(where: string, text: string, options: { ofProgram: boolean } = { ofProgram: false }): void {
    if (!/[\p{L}\p{N}]/u.test(text)) return;
    const masked = this.mask(text);
    for (const kind of findTerms(masked, this.search, !options.ofProgram)) this.hit(where, kind);
    if (options.ofProgram) return;
    for (const kind of findKinds(masked)) this.hit(where, kind);
  }

  /** Known terms in bytes that need not be text. */
  bytes(where: string, bytes: Uint8Array, options: { ofProgram: boolean } = { ofProgram: false }): void {
    if (bytes.length === 0) return;
    for (const kind of findInBytes(bytes, this.search, !options.ofProgram)) this.hit(where, kind);
  }

  /** Text burned into pixels. The same pixels are searched once. */
  async picture(where: string, picture: FinderPicture): Promise<void> {
    const key = pixelKey(picture);
    if (this.#pixelsSeen.has(key)) return;
    this.#pixelsSeen.add(key);
    try {
      const { hits, possible } = await searchPixels(picture, this);
      for (const { at, kind } of hits) this.hit(within(where, `pixels at ${at}`), kind);
      for (const { at, kind } of possible)
        this.#possible.set(`${where}${at}`, { where: within(where, `pixels at ${at}`), kind });
    } catch {
      this.unread(where, { code: 'not-searched', what: 'text' });
    }
  }

  /** True while another part may be read; else says once that it was too many. */
  enter(where: string): boolean {
    this.#partsLeft -= 1;
    if (this.#partsLeft >= 0) return true;
    this.unread(where, { code: 'unusual', format: 'file', what: 'more parts inside it than can be read' });
    return false;
  }

  /** How many bytes the next packed stream may unpack to. */
  get room(): number {
    return Math.max(0, Math.min(LIMITS.streamBytes, this.#bytesLeft));
  }

  unpacked(bytes: number): void {
    this.#bytesLeft -= bytes;
  }

  found(file: string): AuditedFile {
    const named = (list: Iterable<{ where: string; kind: string }>) =>
      [...list].map(({ where, kind }) => ({ file, where, kind }));
    return {
      hits: named(this.#hits.values()),
      possible: named(this.#possible.values()),
      unread: [...this.#unread.values()],
    };
  }

  /** The text without what may stand; for those who change it before it is searched. */
  mask(text: string): string {
    if (this.search.allowed === null) return text;
    return text.normalize('NFC').replace(this.search.allowed, ' \u00b7 ');
  }
}

/** A place inside a place. */
export const within = (outer: string, inner: string): string => (outer === '' ? inner : `${outer}, ${inner}`);
