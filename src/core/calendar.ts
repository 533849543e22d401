/** Calendar days in every form people write them. Pure: nothing here knows what day it is. */

/** Month names and their usual short forms, folded; English, German, French, Spanish, Italian, Portuguese, Dutch, Greek, Russian. From memory. */
const MONTHS = [
  'january jan januar janvier enero gennaio janeiro januari ιανουαριοσ ιανουαριου ιαν январь января янв',
  'february feb februar fevrier fevr febrero febbraio fevereiro februari φεβρουαριοσ φεβρουαριου φεβ февраль февраля фев',
  'march mar marz maerz mars marzo marco maart μαρτιοσ μαρτιου μαρ март марта мар',
  'april apr avril avr abril aprile απριλιοσ απριλιου απρ апрель апреля апр',
  'may mai mayo maggio maio mei μαιοσ μαιου μαι май мая',
  'june jun juni juin junio giugno junho ιουνιοσ ιουνιου ιουν июнь июня июн',
  'july jul juli juillet juil julio luglio julho ιουλιοσ ιουλιου ιουλ июль июля июл',
  'august aug aout agosto augustus αυγουστοσ αυγουστου αυγ август августа авг',
  'september sep sept septembre septiembre settembre setembro σεπτεμβριοσ σεπτεμβριου σεπ сентябрь сентября сен',
  'october oct oktober okt octobre octubre ottobre outubro οκτωβριοσ οκτωβριου οκτ октябрь октября окт',
  'november nov novembre noviembre novembro νοεμβριοσ νοεμβριου νοε ноябрь ноября ноя',
  'december dec dezember dez decembre diciembre dicembre dezembro δεκεμβριοσ δεκεμβριου δεκ декабрь декабря дек',
].map((words) => words.split(' ').map((word) => word.normalize('NFKD').replace(/\p{M}/gu, '')));

/** Month words that mean something else as well; a day beside them is a date only if a year stands there too. */
const DOUBTFUL = new Set(
  'may mai mar mars marco mei sept juli jul dec dez sep nov jan jun oct aug apr feb avr mayo marzo'.split(
    ' ',
  ),
);

export const monthOf = (word: string): number => MONTHS.findIndex((words) => words.includes(word)) + 1;

const isDay = (day: number, month: number): boolean => {
  const length = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
  return length !== undefined && day >= 1 && day <= length;
};

const isYear = (year: string): boolean => year.length === 2 || /^(?:18|19|20|21)/.test(year);

/** A day as written: with what is not written left null. */
export interface WrittenDay {
  day: number;
  month: number;
  /** Four digits, or two as written. */
  year: string | null;
}

/**
 * Every reading of every date in a folded text; 11/2/26 gives both the 11th of February and the 2nd of November.
 * A figure such as 25/.04, 1/2 or 20.5 is none.
 */
export function datesIn(folded: string): WrittenDay[] {
  return [...inDigits(folded), ...inOneRun(folded), ...inWords(folded)];
}

const YEAR_FIRST = /(?<![\d.,])(\d{4})\s?([-./:_ ])\s?(\d{1,2})\s?\2\s?(\d{1,2})(?!\d)/g;
const YEAR_LAST = /(?<![\d.,/])(\d{1,2})\s?([-./_])\s?(\d{1,2})\s?\2\s?(\d{4}|\d{2})(?![\d]|[.,]\d)/g;
const SPACED = /(?<![\d.,/])(\d{2}) (\d{2}) (\d{4})(?!\d)/g;

/** Instrument sizes come in rows, 10/15/20, that look like dates with two-digit years. */
const SIZES = /(?:size|sizes|file|files|iso|instrument|instruments|no|nos|#)[\s:#]*$/;

function inDigits(text: string): WrittenDay[] {
  const first = [...text.matchAll(YEAR_FIRST)].flatMap((match) => {
    const [, year, , middle, last] = match as unknown as [string, string, string, string, string];
    return isYear(year) ? readings(middle, last, year) : [];
  });
  const last = [...text.matchAll(YEAR_LAST), ...text.matchAll(SPACED)].flatMap((match) => {
    const spaced = match.length === 4;
    const [a, b, year] = (spaced ? match.slice(1) : [match[1], match[3], match[4]]) as [
      string,
      string,
      string,
    ];
    const afterSizes = year.length === 2 && SIZES.test(text.slice(0, match.index));
    return isYear(year) && !afterSizes ? readings(a, b, year) : [];
  });
  return [...first, ...last];
}

/** Day and month in either order, where the calendar allows it. */
const readings = (a: string, b: string, year: string | null): WrittenDay[] =>
  [
    { day: Number(a), month: Number(b), year },
    { day: Number(b), month: Number(a), year },
  ].filter(({ day, month }) => isDay(day, month));

/** 20260211 and 11022026, as devices write them into names; letters and underscores may stand around. */
function inOneRun(text: string): WrittenDay[] {
  return [...text.matchAll(/(?<!\d)(\d{8})(?:\d{6})?(?!\d)/g)].flatMap(([, run = '']) => {
    const yearFirst = isYear(run.slice(0, 4)) ? readings(run.slice(4, 6), run.slice(6), run.slice(0, 4)) : [];
    const yearLast = isYear(run.slice(4)) ? readings(run.slice(0, 2), run.slice(2, 4), run.slice(4)) : [];
    return [...yearFirst, ...yearLast];
  });
}

const OF = String.raw`(?:\s*(?:of|de|do|di|den|the)\s+|[\s.,/_-]*)`;
const DAY_FIRST = new RegExp(
  String.raw`(?<![\p{N}.,])(\d{1,2})(?:st|nd|rd|th|er|η|ης|-?го)?${OF}(\p{L}{3,12})\.?(?:${OF}'?(\d{4}|\d{2})(?![\p{N}]|[.,]\d))?`,
  'gu',
);
const MONTH_FIRST = new RegExp(
  String.raw`(?<!\p{L})(\p{L}{3,12})\.?${OF}(\d{1,2})(?:st|nd|rd|th)?(?![\p{N}]|[.,]\d)(?:[\s.,/_-]*'?(\d{4}|\d{2})(?![\p{N}]|[.,]\d))?`,
  'gu',
);
const MONTH_YEAR = /(?<!\p{L})(\p{L}{3,12})\.?[\s,/_-]*(?:of|de|do|di)?\s*((?:18|19|20|21)\d{2})(?!\d)/gu;

function inWords(text: string): WrittenDay[] {
  const dayFirst = [...text.matchAll(DAY_FIRST)].map((match) => [match[1], match[2], match[3]]);
  const monthFirst = [...text.matchAll(MONTH_FIRST)].map((match) => [match[2], match[1], match[3]]);
  const whole = [...dayFirst, ...monthFirst].flatMap(([day, word, year]): WrittenDay[] => {
    const month = monthOf(word!);
    const sure = year !== undefined || !DOUBTFUL.has(word!);
    return month > 0 && isDay(Number(day), month) && sure
      ? [{ day: Number(day), month, year: year ?? null }]
      : [];
  });
  const monthOnly = [...text.matchAll(MONTH_YEAR)].flatMap(([, word = '', year = '']): WrittenDay[] => {
    const month = monthOf(word);
    return month > 0 ? [{ day: 0, month, year }] : [];
  });
  return [...whole, ...monthOnly];
}

/** Day and month named by a word without a year, even a doubtful word: told only of a day that is known. */
export function namesDay(folded: string, day: number, month: number): boolean {
  return (
    [...folded.matchAll(DAY_FIRST)].some(
      (match) => Number(match[1]) === day && monthOf(match[2]!) === month,
    ) ||
    [...folded.matchAll(MONTH_FIRST)].some(
      (match) => Number(match[2]) === day && monthOf(match[1]!) === month,
    )
  );
}
