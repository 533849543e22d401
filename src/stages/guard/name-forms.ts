/** Which texts are the name of a patient. All pure. */
import { editDistance } from '../../core/edit-distance.js';
import { nameParts } from '../../core/names.js';
import { asRead } from './as-read.js';
import { ADDRESS, DENTIST, NOT_NAMES, SEX_OR_AGE } from './not-names.js';

const KNOWN_WORDS = new Set([...NOT_NAMES].map(asRead));

/** Long words are told with a slip in them. */
const LONG_WORD = 6;

function isNoName(part: string): boolean {
  const read = asRead(part);
  if (KNOWN_WORDS.has(read)) return true;
  if (read.length < LONG_WORD) return false;
  return [...KNOWN_WORDS].some(
    (word) => Math.abs(word.length - read.length) <= 1 && editDistance(word, read) <= 1,
  );
}

const digitsIn = (word: string): number => word.replace(/\D/g, '').length;

/** The words of a text up to its first number, without age and sex. */
function words(text: string): string {
  const all = text.split(/(?<=[\s,;^])/);
  const end = all.findIndex((word) => digitsIn(word) * 2 >= word.trim().length && digitsIn(word) > 0);
  const before = end < 0 ? all : all.slice(0, end);
  while (before.length > 1 && SEX_OR_AGE.test(before.at(-1)!.replace(/[^\p{L}]/gu, ''))) before.pop();
  return before
    .join('')
    .replace(/[\s,;^(|/-]+$/g, '')
    .trim();
}

/** The name in what stands after a name's label; null when that is none. */
export function labelledName(value: string): string | null {
  if (DENTIST.test(value)) return null;
  const name = words(value);
  const parts = nameParts(name);
  const long = parts.filter((part) => [...part].length >= 2);
  const says = long.length >= 2 || long.some((part) => [...part].length >= 4 || /\p{Script=Han}/u.test(part));
  return says && !parts.some(isNoName) ? name : null;
}

const PART = "\\p{L}[\\p{L}\\p{N}'|!$-]+";
const CARET = new RegExp(`^${PART}(?: ${PART}){0,2}\\^${PART}`, 'u');
const COMMA = new RegExp(`^${PART}(?: ${PART}){0,2} ?, ?${PART}(?: (?:${PART}|\\p{L})\\.?){0,2}$`, 'u');
const WORDS = new RegExp(`^${PART}(?: (?:${PART}|\\p{L})\\.?){0,2} ${PART}$`, 'u');

export interface BareName {
  value: string;
  /** `sure`: a form that nothing else has. `perhaps`: two words or three, which may be a clinic's. */
  form: 'sure' | 'perhaps';
}

/** @param text folded, without a label */
export function bareName(text: string): BareName | null {
  if (DENTIST.test(text)) return null;
  const addressed = ADDRESS.test(text);
  const value = words(text.replace(ADDRESS, ''));
  const parts = nameParts(value);
  if (parts.length === 0 || parts.length > 5 || parts.some(isNoName)) return null;
  if (addressed) return labelledName(value) === null ? null : { value, form: 'sure' };
  if (CARET.test(value)) return { value, form: 'sure' };
  if (COMMA.test(value)) return isPlace(value) ? null : { value, form: 'sure' };
  if (!WORDS.test(value)) return null;
  const aged = /^\W*\d{1,3} ?(?:y|yrs?|years?|j|jahre|ans)\b/.test(text.slice(value.length));
  return { value, form: aged ? 'sure' : 'perhaps' };
}

/** A town and two letters for its state or country. */
const isPlace = (value: string): boolean => /, ?\p{L}{2}$/u.test(value);
