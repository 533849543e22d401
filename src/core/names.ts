import { editDistance } from './edit-distance.js';
import { fold, spellings } from './fold.js';

/** Titles and forms of address: never part of who someone is. */
const TITLES = new Set(
  'mr mrs ms miss mx master herr frau m mme mlle sr sra dr med dent dmd dds prof professor jr ii iii phd msc bds'.split(
    ' ',
  ),
);

/** What software writes where it knows no name. */
const PLACEHOLDERS = new Set(
  'anonymous anonymized anonymised anonym unknown patient none null no name na default undefined unnamed untitled test demo new'.split(
    ' ',
  ),
);

/** A name's words, folded, without titles: "TESTCASE^ROWAN^^Mr" gives testcase and rowan. */
export const nameParts = (name: string): string[] =>
  fold(name)
    .split(/[^\p{L}\p{N}']+/u)
    .map((part) => part.replace(/^'+|'+$/g, ''))
    .filter((part) => part !== '' && !TITLES.has(part));

/** Whether two spellings of one part of a name are the same: one slip is forgiven in a part of five letters or more. */
export function samePart(a: string, b: string): boolean {
  if (a === b) return true;
  const near = Math.max(a.length, b.length) >= 5 && Math.abs(a.length - b.length) <= 1;
  if (near && editDistance(a, b) <= 1) return true;
  const others = spellings(b);
  return spellings(a).some((one) => others.includes(one));
}

const isInitial = (part: string): boolean => part.length === 1;

/** A part fits a name that has it, its initial, or it as two parts run together (Anne-Marie, Annemarie). */
function fits(part: string, parts: readonly string[]): boolean {
  const joined = parts.slice(1).map((next, at) => parts[at]! + next);
  const turned = parts.slice(1).map((next, at) => next + parts[at]!);
  return [...parts, ...joined, ...turned].some(
    (one) => samePart(part, one) || ((isInitial(part) || isInitial(one)) && part[0] === one[0]),
  );
}

const script = (parts: readonly string[]): string =>
  /\p{Script=Latin}/u.test(parts.join(''))
    ? 'latin'
    : /\p{Script=Greek}/u.test(parts.join(''))
      ? 'greek'
      : /\p{Script=Cyrillic}/u.test(parts.join(''))
        ? 'cyrillic'
        : 'other';

export type SamePerson = 'same' | 'other' | 'unknown';

/**
 * Whether two names mean one person: order-blind, folded, a slip or an initial forgiven. One name may have parts the
 * other lacks; if both have parts the other lacks, they are two people (Jane and Rowan of one family). `unknown` when
 * a name says nothing, or the scripts differ. Symmetric.
 */
export function comparePersons(a: string, b: string): SamePerson {
  const left = nameParts(a);
  const right = nameParts(b);
  if (saysNothing(left) || saysNothing(right) || script(left) !== script(right)) return 'unknown';
  const within = left.every((part) => fits(part, right)) || right.every((part) => fits(part, left));
  return within ? 'same' : 'other';
}

/** True only when the names are known to mean one person. */
export const samePerson = (a: string, b: string): boolean =>
  comparePersons(a, b) === 'same' || (fold(a).trim() !== '' && fold(a).trim() === fold(b).trim());

/** No part of two letters or more that is a name. */
const saysNothing = (parts: readonly string[]): boolean =>
  !parts.some((part) => /\p{L}{2,}/u.test(part) && !PLACEHOLDERS.has(part)) ||
  parts.some((part) => /^(anonym|unknown)/.test(part));
