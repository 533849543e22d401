/** Which texts are the name of a patient. All pure. */
import { nameParts } from '../../core/names.js';
import { asRead } from './as-read.js';
import { ADDRESS, DENTIST, NOT_NAMES, SEX_OR_AGE } from './not-names.js';

const KNOWN_WORDS = new Set([...NOT_NAMES].map(asRead));

/** Long words are told with a slip in them. */
const LONG_WORD = 6;
const LONG_WORDS = [...KNOWN_WORDS].filter((word) => word.length >= LONG_WORD - 1);

/** One letter lost, added or changed; much faster than counting all slips. */
function isOneSlip(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false;
  let start = 0;
  while (start < a.length && a[start] === b[start]) start += 1;
  let end = 0;
  while (end < Math.min(a.length, b.length) - start && a.at(-1 - end) === b.at(-1 - end)) end += 1;
  return Math.max(a.length, b.length) - start - end <= 1;
}

function isNoName(part: string): boolean {
  const read = asRead(part);
  if (KNOWN_WORDS.has(read)) return true;
  if (read.length < LONG_WORD) return false;
  return LONG_WORDS.some((word) => isOneSlip(word, read));
}

const digitsIn = (word: string): number => word.replace(/\D/g, '').length;

const isNumber = (word: string): boolean => digitsIn(word) * 2 > word.trim().length || /\d{3}/.test(word);

/** The words of a text up to its first number, without age and sex; a figure inside a word is put as its letter. */
function words(text: string): string {
  const all = text
    .split(/(?<=[\s,;^])/)
    .map((word) => (/\d/.test(word) && !isNumber(word) ? asRead(word) : word));
  const end = all.findIndex(isNumber);
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
  // one word alone must be plain: "case12" is no name
  const plain = parts.filter((part) => value.includes(part));
  const says =
    long.length >= 2 || plain.some((part) => [...part].length >= 4 || /\p{Script=Han}/u.test(part));
  return says && !parts.some(isNoName) ? name : null;
}

const PART = "\\p{L}[\\p{L}\\p{N}'|!$-]+";
const CARET = new RegExp(`^${PART}(?: ${PART}){0,2}\\^${PART}`, 'u');
const COMMA = new RegExp(`^${PART}(?: ${PART}){0,2} ?, ?${PART}(?: (?:${PART}|\\p{L})\\.?){0,2}$`, 'u');
/** A reader takes the comma for a point now and then. */
const POINT = new RegExp(`^${PART}\\p{L}\\. ?${PART}\\p{L}$`, 'u');
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
  if (CARET.test(value) || POINT.test(value)) return { value, form: 'sure' };
  if (COMMA.test(value)) return isPlace(value) ? null : { value, form: 'sure' };
  if (!WORDS.test(value)) return null;
  const aged = /^\W*\d{1,3} ?(?:y|yrs?|years?|j|jahre|ans)\b/.test(text.slice(value.length));
  return { value, form: aged ? 'sure' : 'perhaps' };
}

/** A town and the two letters of its state or province (postal codes of the USA, Canada and Australia; from memory). */
const STATES = new Set(
  (
    'al ak az ar ca co ct de dc fl ga hi id il in ia ks ky la me md ma mi mn ms mo mt ne nv nh nj nm ny nc nd oh ok or ' +
    'pa ri sc sd tn tx ut vt va wa wv wi wy ab bc mb nb nl ns nt nu on pe qc sk yt nsw vic qld tas act uk us eu'
  ).split(' '),
);
const isPlace = (value: string): boolean => STATES.has(/, ?(\p{L}{2,3})$/u.exec(value)?.[1] ?? '');
