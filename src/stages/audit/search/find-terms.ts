import { datesIn } from '../../../core/calendar.js';
import { fold } from '../../../core/fold.js';
import type { Term, TermSearch } from './build-search.js';
import { type Token, tokensOf } from './tokens.js';

interface Match {
  form: string;
  term: Term;
  first: number;
  last: number;
}

/** A weak term counts when another of the same person stands this many words away at most. */
const BESIDE = 4;
/** Pieces one term may be broken into, e.g. a chart number written digit by digit. */
const MOST_PIECES = 16;

/**
 * Kinds of known terms in a text, sorted; never the text. Letterhead lines and share codes must be masked before.
 * @param figures false for what programs write (places, widths, counts), where a chart number of five figures or fewer
 * stands by chance
 */
export function findTerms(text: string, search: TermSearch, figures = true): string[] {
  const tokens = tokensOf(text);
  const matches = matchesIn(tokens, search).filter(({ form }) => figures || !/^\d{1,5}$/.test(form));
  const strong = matches.filter((match) => !match.term.weak || hasCompany(match, matches));
  const kinds = new Set(strong.map(({ term }) => term.kind));
  const folded = search.anywhere.length > 0 || search.days.size > 0 ? fold(text) : '';
  for (const { text: wanted, kind } of search.anywhere) if (folded.includes(wanted)) kinds.add(kind);
  for (const kind of knownDays(folded, search)) kinds.add(kind);
  if (search.squeezed.length > 0 && isSpacedOut(tokens)) {
    const all = tokens.map((token) => token.text).join('');
    if (search.squeezed.some((name) => all.includes(name))) kinds.add('patient-name');
  }
  return [...kinds].sort();
}

function matchesIn(tokens: readonly Token[], search: TermSearch): Match[] {
  const matches: Match[] = [];
  for (let first = 0; first < tokens.length; first += 1) {
    let form = '';
    let gaps: string[] = [];
    for (let last = first; last < tokens.length && last < first + MOST_PIECES; last += 1) {
      const token = tokens[last]!;
      form += token.text;
      if (form.length > search.longest + 1) break;
      if (last > first) gaps = [...gaps, token.gap];
      if (last > first && token.gap.length > MOST_BETWEEN) break;
      for (const term of termsOf(form, search)) {
        if (mayBeParted(form, gaps, term)) matches.push({ form, term, first, last });
      }
    }
  }
  return matches;
}

/** Characters between two pieces of one term. */
const MOST_BETWEEN = 3;

/** A name also with an s at its end: Testcase's, Testcases. */
function termsOf(form: string, search: TermSearch): readonly Term[] {
  const found = search.terms.get(form) ?? [];
  if (!form.endsWith('s')) return found;
  const without = (search.terms.get(form.slice(0, -1)) ?? []).filter(({ kind }) => kind === 'patient-name');
  return [...found, ...without];
}

/** Figures in a row are one number only when the same sign parts them; a single word is parted by a hyphen at most. */
function mayBeParted(form: string, gaps: readonly string[], term: Term): boolean {
  if (gaps.length === 0) return true;
  if (/^\d+$/.test(form)) return gaps.every((gap) => gap === gaps[0] && gap.length === 1);
  return term.several || gaps.every((gap) => /^[-'\u2010\u2011]?$/.test(gap));
}

const hasCompany = ({ term, first, last }: Match, matches: readonly Match[]): boolean =>
  matches.some(
    (other) =>
      other.term.owner === term.owner &&
      (other.last < first || other.first > last) &&
      other.first - last <= BESIDE &&
      first - other.last <= BESIDE,
  );

/** Mostly single letters: text that was set letter by letter. */
const isSpacedOut = (tokens: readonly Token[]): boolean => {
  const single = tokens.filter(({ text }) => text.length === 1).length;
  return single >= 6 && single >= tokens.length / 4;
};

/** Kinds of known days in a folded text, in any form people or devices write them. */
export function knownDays(folded: string, search: TermSearch): string[] {
  if (search.days.size === 0 || !/\d/.test(folded)) return [];
  const kinds = datesIn(folded).flatMap(({ day, month, year }) => {
    if (year === null) return [];
    const md = `${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
    const years = year.length === 4 ? [year] : [`19${year}`, `20${year}`];
    return years.flatMap((one) => search.days.get(`${one}-${md}`) ?? []);
  });
  const runs = [...folded.matchAll(/(?<![\d.,])\d{6}(?!\d)/g)].flatMap(([run]) => search.runs.get(run) ?? []);
  return [...kinds, ...runs];
}
