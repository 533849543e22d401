import { datesIn, namesDay } from './calendar.js';
import { hasContact, hasGreatAge, hasPersonNumber } from './contact.js';
import { fold, spellings } from './fold.js';

/** What may identify a patient in text. `contact`: mail, phone, link, address in a network. */
export type IdentifierKind = 'name' | 'chart' | 'born' | 'date' | 'contact' | 'number' | 'age';

/** What a text is searched for, made once for a patient. Private: the patterns hold the patient's data. */
export interface IdentityTerms {
  names: RegExp | null;
  chart: RegExp | null;
  born: Day | null;
  visit: Day | null;
}

interface Day {
  year: string;
  month: number;
  day: number;
}

/** Small words inside names that are ordinary words of a language; the rest of such a name is still searched for. */
const PARTICLES = new Set(
  'von van der den del della dei degli des dos das ter ten tot zum zur the and und ibn bin bint mrs miss herr frau prof'.split(
    ' ',
  ),
);

/** Names of two letters are too common as words and labels to be searched for alone. */
const SHORTEST_PART = 3;

/**
 * @param patient names are searched part by part, and whole in either order; a name that is an ordinary word still
 * counts, since rewording a caption costs less than a leak
 * @param visitDate the day of the visit, ISO 8601
 */
export function buildTerms(
  patient: { chart: string | null; names: readonly string[]; born: string | null },
  visitDate: string | null,
): IdentityTerms {
  return {
    names: namePattern(patient.names),
    chart: chartPattern(patient.chart),
    born: dayOf(patient.born),
    visit: dayOf(visitDate),
  };
}

const partsOf = (name: string): string[] => name.split(/[^\p{L}\p{M}\p{N}]+/u).filter((part) => part !== '');

const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');

/** Between letters of another word no name is seen; an underscore or a hyphen is an edge. */
const asWord = (inner: string): string => `(?<![\\p{L}\\p{N}])(?:${inner})(?![\\p{L}\\p{N}])`;

function namePattern(names: readonly string[]): RegExp | null {
  const found = new Set<string>();
  for (const name of names) {
    const parts = partsOf(name);
    for (const part of parts) {
      for (const form of spellings(part)) {
        if ([...form].length >= SHORTEST_PART && !PARTICLES.has(form)) found.add(`${literal(form)}s?`);
      }
    }
    for (const whole of wholeNames(parts)) found.add(whole);
  }
  for (const whole of wholeNames(names.flatMap(partsOf))) found.add(whole);
  return found.size === 0 ? null : new RegExp(asWord([...found].join('|')), 'u');
}

/** All parts in a row, forwards and backwards, with anything or nothing between: "Li Wei", "WeiLi", "li_wei". */
function wholeNames(parts: readonly string[]): string[] {
  if (parts.length < 2 || parts.length > 8) return [];
  const folded = parts.map((part) => literal(fold(part))).filter((part) => part !== '');
  const between = "[\\s,.^_'-]{0,3}";
  return [folded.join(between), folded.toReversed().join(between)];
}

const LEAST_ALONE = 4;
const LEAST_DIGITS = 5;
const NUMBER_WORDS = '(?:chart|patient|pat|id|nr|no|number|record|file|case|#)[\\s.:#_-]{0,3}';

/** The chart number with or without its separators; a very short one only after a word such as "chart". */
function chartPattern(chart: string | null): RegExp | null {
  const signs = [...fold(chart ?? '')].filter((sign) => /[\p{L}\p{N}]/u.test(sign));
  if (signs.length === 0) return null;
  const between = '[\\s./_#-]{0,3}';
  const whole = signs.map(literal).join(between);
  if (signs.length < LEAST_ALONE) return new RegExp(asWord(`${NUMBER_WORDS}${whole}`), 'u');
  const digits = /\d{5,}/.exec(signs.join(''))?.[0] ?? '';
  const core = digits.length >= LEAST_DIGITS ? [...digits].join(between) : null;
  return new RegExp(asWord(core === null ? whole : `${whole}|${core}`), 'u');
}

function dayOf(iso: string | null): Day | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso ?? '');
  return found === null ? null : { year: found[1]!, month: Number(found[2]), day: Number(found[3]) };
}

/**
 * What kinds of identifying text stand in it, never the text itself, in a fixed order. Dates of any day count, not
 * only this patient's; a year alone does not (45 CFR 164.514(b)(2)(i)(C)).
 */
export function findIdentifiers(text: string, terms: IdentityTerms): IdentifierKind[] {
  const folded = fold(text);
  const dates = datesIn(folded);
  const isBorn =
    terms.born !== null && (dates.some((one) => sameDay(one, terms.born!)) || namesKnown(folded, terms.born));
  const isVisit = terms.visit !== null && namesKnown(folded, terms.visit);
  const found: [IdentifierKind, boolean][] = [
    ['name', terms.names?.test(folded) ?? false],
    ['chart', terms.chart?.test(folded) ?? false],
    ['born', isBorn],
    ['date', !isBorn && (dates.length > 0 || isVisit)],
    ['contact', hasContact(folded)],
    ['number', dates.length === 0 && hasPersonNumber(folded)],
    ['age', hasGreatAge(folded)],
  ];
  return found.filter(([, is]) => is).map(([kind]) => kind);
}

const sameDay = (a: { day: number; month: number; year: string | null }, b: Day): boolean =>
  a.day === b.day && a.month === b.month && (a.year === null || b.year.endsWith(a.year));

const two = (value: number): string => String(value).padStart(2, '0');

/** A known day also without its year: "11 Feb", "11.02.", and run together as devices write it, 260211. */
function namesKnown(folded: string, day: Day): boolean {
  const { month, day: date, year } = day;
  const short = year.slice(2);
  const run = [
    `${short}${two(month)}${two(date)}`,
    `${two(date)}${two(month)}${short}`,
    `${two(month)}${two(date)}${short}`,
  ];
  const pattern = new RegExp(`(?<![\\d.,])(?:${run.join('|')}|${two(date)}\\.${two(month)}\\.)(?!\\d)`);
  return pattern.test(folded) || namesDay(folded, date, month);
}
