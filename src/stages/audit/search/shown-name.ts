import type { TermSearch } from './build-search.js';
import { findKinds } from './find-kinds.js';
import { findTerms } from './find-terms.js';

/** Kinds that a file or folder name shows, without its extension. Counters of cameras are none. */
export function kindsInName(name: string, search: TermSearch): string[] {
  const bare = name.replace(/_/g, ' ');
  const counted = /^[A-Za-z_]{1,6}[-_ ]?\d{4,8}(?:[ _-]?\(?\d{1,2}\)?)?(?:\.[A-Za-z0-9]{1,5})?$/.test(name);
  const kinds = counted ? [] : findKinds(bare).filter((kind) => kind !== 'url');
  return [...new Set([...findTerms(name, search), ...kinds])].sort();
}

/** The name as a hit may print it: one that identifies is withheld, and told by its place in the list instead. */
export const shownName = (name: string, number: number, search: TermSearch): string =>
  kindsInName(name, search).length === 0 ? name : `(name withheld, number ${number})${extensionOf(name)}`;

const extensionOf = (name: string): string => /\.[A-Za-z0-9]{1,5}$/.exec(name)?.[0] ?? '';
