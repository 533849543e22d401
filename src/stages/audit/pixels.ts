import { createHash } from 'node:crypto';
import { editDistance } from '../../core/edit-distance.js';
import { nameParts, samePart } from '../../core/names.js';
import type { FinderPicture, FoundText } from '../../finders/finder.js';
import type { AuditTools } from './audited.js';
import type { TermSearch } from './search/build-search.js';
import { findKinds } from './search/find-kinds.js';
import { findTerms } from './search/find-terms.js';
import { joined } from './search/tokens.js';

export interface PixelHit {
  /** "120,34": left upper corner of the text, pixels of the picture. */
  at: string;
  kind: string;
}

/** The recogniser's mean confidence from which a reading counts as text; below it the place is only listed. */
const SURE = 0.85;
const SURE_OF_TERM = 0.5;

/** Text in pixels, graded: what is certainly read and on no allow-list is a hit, the rest is listed as possible. */
export async function searchPixels(
  picture: FinderPicture,
  by: { search: TermSearch; tools: AuditTools; kept: readonly string[] },
): Promise<{ hits: PixelHit[]; possible: PixelHit[] }> {
  const texts = await by.tools.searchTexts(picture);
  const hits: PixelHit[] = [];
  const possible: PixelHit[] = [];
  for (const text of texts) {
    const at = `${text.box[0]},${text.box[1]}`;
    const { known, kind } = grade(text, by);
    for (const one of known) hits.push({ at, kind: one });
    if (kind === 'text') hits.push({ at, kind: 'text-in-picture' });
    if (kind === 'possible' && known.length === 0) possible.push({ at, kind: 'text-in-picture' });
  }
  return { hits: [...hits, ...acrossBoxes(texts, by.search)], possible };
}

function grade(
  { text, confidence }: FoundText,
  { search, tools, kept }: { search: TermSearch; tools: AuditTools; kept: readonly string[] },
): { known: string[]; kind: 'text' | 'possible' | 'allowed' } {
  const letters = joined(text).length;
  const readable = letters >= 2 && confidence >= SURE_OF_TERM;
  const stays = letters > 0 && (tools.isAllowedText(text) || isKept(text, kept));
  // What is known of the patient counts whatever a person keeps; a kind, such as a number, is what they looked at.
  const known = readable ? knownIn(text, search, !stays) : [];
  if (stays) return { known, kind: 'allowed' };
  return { known, kind: letters >= 2 && confidence >= SURE ? 'text' : 'possible' };
}

function knownIn(text: string, search: TermSearch, withKinds: boolean): string[] {
  const kinds = new Set([...findTerms(text, search), ...(withKinds ? findKinds(text) : [])]);
  if (hasMisreadName(text, search)) kinds.add('patient-name');
  return [...kinds];
}

/** The recogniser takes a letter for another now and then. */
function hasMisreadName(text: string, search: TermSearch): boolean {
  const parts = nameParts(text).filter((part) => [...part].length >= 5);
  if (parts.length === 0) return false;
  for (const [form, terms] of search.terms) {
    if (terms.every(({ kind, weak }) => kind !== 'patient-name' || weak)) continue;
    if (parts.some((part) => Math.abs(part.length - form.length) <= 1 && samePart(part, form))) return true;
  }
  return false;
}

/** A line that the finder took apart: first name in one box, surname in the next. */
function acrossBoxes(texts: readonly FoundText[], search: TermSearch): PixelHit[] {
  const read = texts.filter(({ confidence }) => confidence >= SURE_OF_TERM);
  const first = read[0];
  if (!first || read.length < 2) return [];
  const at = `${first.box[0]},${first.box[1]}`;
  return findTerms(read.map(({ text }) => text).join(' '), search).map((kind) => ({ at, kind }));
}

/** A kept text is read a little differently at another size; a short one must be the same. */
function isKept(text: string, kept: readonly string[]): boolean {
  const form = joined(text);
  return kept.some((one) => {
    const wanted = joined(one);
    if (wanted === '' || form === '') return false;
    const slips = Math.floor(Math.min(form.length, wanted.length) / 5);
    return form === wanted || (slips > 0 && editDistance(form, wanted) <= slips);
  });
}

/** Tells pixels that were searched already. */
export function pixelKey({ data, widthPx, heightPx, channels }: FinderPicture): string {
  const digest = createHash('sha256').update(data).digest('hex');
  return `${widthPx}x${heightPx}x${channels}:${digest}`;
}
