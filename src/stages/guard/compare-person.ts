/**
 * Whether a name, birth date or number that was read from pixels is clearly somebody else's. A reader of pixels errs
 * in about three characters of a hundred, so a single slip never makes another person; what is near enough to be a
 * slip counts as the same, what cannot be compared as unknown.
 */
import { datesIn } from '../../core/calendar.js';
import { editDistance } from '../../core/edit-distance.js';
import { comparePersons, nameParts, type SamePerson } from '../../core/names.js';
import { asDigits, asRead, foldedText } from './as-read.js';

/** Slips forgiven in one part of a name: none under three letters, then one, two from eight letters on. */
const slipsIn = (a: string, b: string): number => {
  const longest = Math.max([...a].length, [...b].length);
  return longest < 3 ? 0 : longest < 8 ? 1 : 2;
};

/** A field of fixed length, or the edge of a box, cuts a name off. */
const SHORTEST_CUT = 3;
const isCutOff = (a: string, b: string): boolean =>
  Math.min(a.length, b.length) >= SHORTEST_CUT && (a.startsWith(b) || b.startsWith(a));

const isNear = (a: string, b: string): boolean =>
  a === b || isCutOff(a, b) || editDistance(a, b) <= slipsIn(a, b);

const partsOf = (name: string): string[] =>
  nameParts(name)
    .map((part) => asRead(part).replace(/[^\p{L}\p{N}]/gu, ''))
    .filter((part) => part !== '');

const isInitial = (part: string): boolean => [...part].length === 1;

/** Every longer part of one name is found in the other; an initial contradicts nothing. */
function isWithin(parts: readonly string[], others: readonly string[]): boolean {
  const run = others.slice(1).flatMap((next, at) => [others[at]! + next, next + others[at]!]);
  const whole = parts.filter((part) => !isInitial(part));
  return whole.length > 0 && whole.every((part) => [...others, ...run].some((other) => isNear(part, other)));
}

/** Most parts whose every order is tried. */
const MOST_TURNED = 4;

function ordersOf(parts: readonly string[]): string[] {
  if (parts.length > MOST_TURNED) return [parts.join(''), parts.toReversed().join('')];
  if (parts.length < 2) return [parts.join('')];
  return parts.flatMap((part, at) => ordersOf(parts.toSpliced(at, 1)).map((rest) => part + rest));
}

/** All letters in a row, in whatever order the parts stand: a slip may part a name or run it together. */
function runsAlike(parts: readonly string[], others: readonly string[]): boolean {
  const run = parts.join('');
  const slips = Math.max(1, Math.floor(run.length / 8));
  return ordersOf(others).some((other) => {
    return Math.abs(other.length - run.length) <= slips && editDistance(run, other) <= slips;
  });
}

/** @param names all names of the patient, whole, or first and last by themselves */
export function compareName(read: string, names: readonly string[]): SamePerson {
  const parts = partsOf(read);
  let verdict: SamePerson = 'unknown';
  for (const name of [...names, names.join(' ')]) {
    const plain = comparePersons(read, name);
    if (plain === 'same') return 'same';
    const others = partsOf(name);
    const alike =
      isWithin(parts, others) ||
      isWithin(others, parts) ||
      runsAlike(parts, others) ||
      runsAlike(others, parts);
    if (alike && parts.length > 0) return 'same';
    if (plain === 'other') verdict = 'other';
  }
  return verdict;
}

const numberKey = (text: string): string =>
  asDigits(foldedText(text).replace(/[^\p{L}\p{N}]/gu, '')).replace(/^0+(?=.)/, '');

const LEAST_DIGITS = 3;

/** Zeros in front, signs between and a prefix are no difference; two characters that differ are. */
export function compareNumber(read: string, chart: string | null): SamePerson {
  const there = numberKey(read);
  const here = numberKey(chart ?? '');
  const plainDigits = foldedText(read).replace(/\D/g, '').length;
  if (here === '' || plainDigits < LEAST_DIGITS || plainDigits * 2 < there.length) return 'unknown';
  const [short, long] = there.length < here.length ? [there, here] : [here, there];
  if (short === long) return 'same';
  if (short.length >= 4 && long.includes(short)) return 'same';
  // the edge of a box cuts a number off
  if (long.startsWith(short) || long.endsWith(short)) return 'unknown';
  if (long.length - short.length <= 1 && editDistance(short, long) <= 1) return 'unknown';
  return 'other';
}

const MIXED = /\d\p{L}{1,2}(?!\p{L})|(?<!\p{L})\p{L}{1,2}\d/u;

/** With "o2.o6" put as 02.06; without words such as "19a4" or "41y", where a letter resembles no figure. */
const dateFigures = (read: string): string =>
  foldedText(read)
    .split(' ')
    .map((word) => (MIXED.test(word) ? asDigits(word) : word))
    .filter((word) => !MIXED.test(word))
    .join(' ');

/** Every day that the figures may mean is compared; one wrong digit is not enough to tell two people apart. */
export function compareBirth(read: string, born: string | null): SamePerson {
  const digits = (born ?? '').replaceAll('-', '');
  if (digits.length !== 8) return 'unknown';
  const figures = dateFigures(read);
  const days = [figures, figures.replaceAll(' ', '')]
    .flatMap(datesIn)
    .filter(({ day, year }) => year !== null && day > 0);
  if (days.length === 0) return 'unknown';
  const slips = days.map(({ day, month, year }) => {
    const there = `${year}${two(month)}${two(day)}`;
    return editDistance(there, there.length === 8 ? digits : digits.slice(2));
  });
  // A misread figure can turn the order of day and month: the figures as printed are compared as well.
  const printed = figures.replace(/\D/g, '');
  const isOneOff = writtenDays(digits).some((own) => editDistance(printed, own) <= 1);
  const fewest = Math.min(...slips, isOneOff ? 1 : Number.POSITIVE_INFINITY);
  return fewest === 0 ? 'same' : fewest === 1 ? 'unknown' : 'other';
}

/** A day, YYYYMMDD, in the figures of the usual orders, with and without leading zeros. */
function writtenDays(digits: string): string[] {
  const [year, month, day] = [digits.slice(0, 4), digits.slice(4, 6), digits.slice(6)];
  const bare = (part: string): string => part.replace(/^0/, '');
  const orders = [
    [day, month, year],
    [month, day, year],
    [year, month, day],
  ];
  return orders.flatMap((order) => [order.join(''), order.map(bare).join('')]);
}

const two = (value: number): string => String(value).padStart(2, '0');
