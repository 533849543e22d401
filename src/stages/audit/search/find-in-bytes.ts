import { fold } from '../../../core/fold.js';
import type { TermSearch } from './build-search.js';
import { findTerms, knownDays } from './find-terms.js';

/**
 * Known terms in raw bytes, in Latin-1, UTF-8 and UTF-16 of both byte orders at both offsets. Where the bytes read as
 * text for a while, the text is searched like any other. Elsewhere, in coded pictures and packed data, any four letters
 * stand somewhere by chance, so there a term needs five letters and a form people write: small, capitals, or a capital
 * first. `figures` as in find-terms.ts.
 */
export function findInBytes(bytes: Uint8Array, search: TermSearch, figures = true): string[] {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kinds = new Set<string>();
  const add = (found: readonly string[]) => {
    for (const kind of found) kinds.add(kind);
  };
  const utf8 = buffer.toString('utf8');
  add(inRuns(utf8, TEXT_RUN, search, figures));
  const latin1 = buffer.toString('latin1');
  add(inTokens(latin1, LATIN1_WORD, search, figures));
  if (utf8.length !== latin1.length) add(inTokens(utf8, WIDE_WORD, search, figures));
  for (const wide of sixteenBits(buffer)) add(inRuns(wide, WIDE_RUN, search, figures));
  add(anywhereIn(buffer, search));
  return [...kinds].sort();
}

/** Twelve printable signs in a row stand in a megabyte of chance about nine times, and a given word in them never. */
const TEXT_RUN =
  /[\t\n\r\x20-\x7e\u00a0-\u06ff\u0900-\u0dff\u1e00-\u206f\u3000-\u30ff\u4e00-\u9fff\uac00-\ud7a3]{12,}/g;
const WIDE_RUN = /[\t\n\r\x20-\x7e\u00a0-\u052f\u1e00-\u201f]{4,}/g;
const LATIN1_WORD = /[0-9A-Za-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u00ff]{5,}/g;
const WIDE_WORD = /[0-9A-Za-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u052f\u1e00-\u1fff]{5,}/g;

function inRuns(text: string, run: RegExp, search: TermSearch, figures: boolean): string[] {
  const kinds: string[] = [];
  for (const [found] of text.matchAll(run)) {
    if (!/\S{2}/.test(found)) continue;
    kinds.push(...findTerms(found, search, figures), ...knownDays(fold(found), search));
  }
  return kinds;
}

const WRITTEN = /^(?:[\p{Ll}\d]+|[\p{Lu}\d]+|\p{Lu}[\p{Ll}\d]+)$/u;

function inTokens(text: string, word: RegExp, search: TermSearch, figures: boolean): string[] {
  const kinds: string[] = [];
  for (const [found] of text.matchAll(word)) {
    if (found.length > search.longest + 2 || !WRITTEN.test(found)) continue;
    if (!figures && /^\d{1,5}$/.test(found)) continue;
    for (const { kind, weak } of search.terms.get(fold(found)) ?? []) if (!weak) kinds.push(kind);
  }
  return kinds;
}

/** UTF-16 of both byte orders, from the first byte and from the second. */
function* sixteenBits(buffer: Buffer): Generator<string> {
  for (const start of [0, 1]) {
    const even = buffer.subarray(start, buffer.length - ((buffer.length - start) % 2));
    if (even.length === 0) continue;
    yield even.toString('utf16le');
    yield Buffer.from(even).swap16().toString('utf16le');
  }
}

/** Scripts without spaces, by their bytes; two signs of UTF-16 are four bytes, which chance writes now and then. */
function anywhereIn(buffer: Buffer, search: TermSearch): string[] {
  return search.anywhere.flatMap(({ text, kind }) => {
    const little = Buffer.from(text, 'utf16le');
    const codings = [Buffer.from(text, 'utf8'), little, Buffer.from(little).swap16()];
    return codings.some((coding) => coding.length >= 5 && buffer.includes(coding)) ? [kind] : [];
  });
}
