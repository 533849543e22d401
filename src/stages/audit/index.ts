/**
 * Audit: finished files read again as a stranger would. In come the bytes of one file, the terms known of patients, and
 * a finder of text in pixels; out go hits (place and kind, never the value), places a person may want to look at, and
 * parts that could not be read. A file with an unread part is never clean. Nothing is judged harmless because it is
 * ours: the readers here share no code with what strips and draws.
 *
 * Searched for everywhere: the known terms, folded and as whole words. In text and metadata also kinds: dates, phone
 * numbers, addresses, long numbers, codes, names after a title, great ages.
 */
import type { AuditedFile, AuditTerms, AuditTools } from './audited.js';
import { readInner } from './read/read-inner.js';
import { Reading } from './reading.js';
import { buildSearch } from './search/build-search.js';
import { findTerms } from './search/find-terms.js';
import { kindsInName, shownName } from './search/shown-name.js';

export {
  type AuditedFile,
  type AuditHit,
  type AuditTerms,
  type AuditTools,
  NO_TERMS,
  type UnreadPart,
} from './audited.js';

export interface AuditInput {
  bytes: Uint8Array;
  /** As hits name the file; not searched, see `auditName`. */
  name: string;
  terms: AuditTerms;
  /** Texts a person decided to keep on pictures of this file. They excuse text, never a known term. */
  kept: readonly string[];
}

/** Reads one file. Never throws for what stands in it. */
export async function auditFile(input: AuditInput, tools: AuditTools): Promise<AuditedFile> {
  const reading = new Reading(buildSearch(input.terms), tools, input.kept);
  try {
    await readInner(reading, input.bytes, '', 0);
  } catch {
    // A reader that stumbles has not read the rest.
    reading.unread('', { code: 'unreadable', what: 'a part of it' });
  }
  return reading.found(input.name);
}

/** Names of files and folders: what of them may be printed, and the kinds each shows. */
export interface NameReader {
  kindsIn(name: string): string[];
  /** @param number place in its list, which stands for a name that identifies */
  shown(name: string, number: number): string;
  /** A folder above what is read, which only a known term makes unprintable. */
  shownAbove(name: string): string;
}

export function nameReader(terms: AuditTerms): NameReader {
  const search = buildSearch(terms);
  return {
    shownAbove: (name) => (findTerms(name, search).length === 0 ? name : '(name withheld)'),
    kindsIn: (name) => kindsInName(name, search),
    shown: (name, number) => shownName(name, number, search),
  };
}
