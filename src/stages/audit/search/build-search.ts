import { fold, spellings } from '../../../core/fold.js';
import type { IdentifyingString } from '../../../core/picture-facts.js';
import type { AuditTerms } from '../audited.js';
import { isCommonWord, isTradeWord } from './common-words.js';
import { fileNameTerms } from './file-name-terms.js';
import { isUnspaced, joined, tokensOf } from './tokens.js';

export interface Term {
  kind: string;
  /** Whose it is: an index of patients, or -1. */
  owner: number;
  /** Counts only beside another term of the same owner. */
  weak: boolean;
  /** Of several words, so that anything may stand between its pieces. */
  several: boolean;
}

/** What the terms become, once for a file: every term by its joined form, so that a lookup costs the same for any number. */
export interface TermSearch {
  terms: ReadonlyMap<string, readonly Term[]>;
  /** Letters and digits of the longest term. */
  longest: number;
  /** Terms of scripts without spaces between words, found anywhere. */
  anywhere: readonly { text: string; kind: string }[];
  /** Known days, "2026-02-11", and the kind each is. */
  days: ReadonlyMap<string, string>;
  /** Known days as devices run them together, "260211". */
  runs: ReadonlyMap<string, string>;
  /** Names of a whole person, eight letters or more, for text whose letters are set one by one. */
  squeezed: readonly string[];
  /** What may stand. */
  allowed: RegExp | null;
}

/** Small words inside names; the rest of such a name is still searched for. */
const PARTICLES = new Set(
  'von van der den del della dei degli des dos das ter ten tot zum zur the and und ibn bin bint mrs miss herr frau prof'.split(
    ' ',
  ),
);

/** Shorter ones count only beside another. */
const SHORTEST_ALONE = 4;
const MOST_PARTS = 8;

export function buildSearch(terms: AuditTerms): TermSearch {
  const building = new Building();
  terms.patients.forEach((patient, owner) => {
    building.person(patient.names, owner);
    building.number(patient.chart, 'chart-number', owner);
    building.day(patient.born, 'birth-date');
    for (const date of patient.visitDates) building.day(date, 'visit-date');
  });
  for (const string of terms.strings) building.lifted(string);
  for (const name of terms.fileNames) {
    for (const term of fileNameTerms(name)) building.phrase(term, 'source-name', -1);
  }
  for (const line of terms.lines) building.line(line);
  return building.search(terms.allowed);
}

class Building {
  readonly #terms = new Map<string, Term[]>();
  readonly #anywhere: { text: string; kind: string }[] = [];
  readonly #days = new Map<string, string>();
  readonly #squeezed = new Set<string>();

  #add(form: string, term: Term): void {
    if (form === '') return;
    if (isUnspaced(form)) this.#anywhere.push({ text: form, kind: term.kind });
    const known = this.#terms.get(form) ?? [];
    if (!known.some((one) => one.kind === term.kind && one.owner === term.owner && one.weak === term.weak))
      this.#terms.set(form, [...known, term]);
  }

  /** Every word of a name, and the whole of it in either order. */
  person(names: readonly string[], owner: number): void {
    const kind = 'patient-name';
    const whole = names.map((name) => name.split(/[\s^,;_]+/u).filter((word) => joined(word) !== ''));
    for (const words of [...whole, whole.flat()]) {
      if (words.length > MOST_PARTS) continue;
      for (const word of words) this.#nameWord(word, kind, owner);
      if (words.length < 2) continue;
      for (const order of [words, words.toReversed()]) {
        const form = joined(order.join(' '));
        this.#add(form, { kind, owner, weak: [...form].length < SHORTEST_ALONE, several: true });
        if (form.length >= 8) this.#squeezed.add(form);
      }
    }
  }

  #nameWord(word: string, kind: string, owner: number): void {
    const pieces = new Set([word, ...word.split(/[^\p{L}\p{M}\p{N}]+/u)]);
    for (const piece of pieces) {
      for (const form of spellings(piece).map(joined)) {
        if (PARTICLES.has(form) || [...form].length < 2) continue;
        this.#add(form, { kind, owner, weak: isWeak(form), several: false });
      }
    }
  }

  /** A chart number with or without its separators, and its digits alone when there are five or more. */
  number(value: string | null, kind: string, owner: number): void {
    const form = joined(value ?? '');
    const several = tokensOf(value ?? '').length > 1;
    this.#add(form, { kind, owner, weak: isWeak(form), several });
    for (const run of form.match(/\d{5,}/g) ?? [])
      this.#add(run, { kind, owner, weak: false, several: false });
  }

  day(iso: string | null, kind: string): void {
    if (iso !== null && /^\d{4}-\d\d-\d\d$/.test(iso) && !this.#days.has(iso)) this.#days.set(iso, kind);
  }

  /** Words in a row. Words of the trade in a row say nothing, nor does one common word. */
  phrase(text: string, kind: string, owner: number): void {
    const words = tokensOf(text).map((token) => token.text);
    const form = words.join('');
    if (words.length > MOST_PHRASE || [...form].length < SHORTEST_ALONE) return;
    const saysNothing = words.length === 1 ? isCommonWord : isTradeWord;
    if (words.every((word) => saysNothing(word) || /^\d{1,4}$/.test(word))) return;
    if (/^\d+$/.test(form) && form.length < 5) return;
    this.#add(form, { kind, owner, weak: false, several: words.length > 1 });
  }

  lifted({ kind, value }: IdentifyingString): void {
    if (kind === 'person-name') this.person([value], -1);
    else if (kind === 'person-id') this.number(value, 'chart-number', -1);
    else if (kind === 'birth-date') this.day(isoOf(value), 'birth-date');
    else for (const line of value.split(/[\r\n]+/)) this.phrase(line, 'source-metadata', -1);
  }

  /** As the person wrote it, however short. */
  line(line: string): void {
    const form = joined(line);
    this.#add(form, { kind: 'term', owner: -1, weak: false, several: tokensOf(line).length > 1 });
    if (form.length >= 8) this.#squeezed.add(form);
    this.day(isoOf(line), 'term');
  }

  search(allowed: readonly string[]): TermSearch {
    const terms = this.#terms;
    const longest = Math.max(0, ...[...terms.keys()].map((form) => form.length));
    const runs = new Map(
      [...this.#days].flatMap(([iso, kind]) => runsOf(iso).map((run) => [run, kind] as const)),
    );
    return {
      terms,
      longest,
      anywhere: this.#anywhere,
      days: this.#days,
      runs,
      squeezed: [...this.#squeezed],
      allowed: allowedPattern(allowed),
    };
  }
}

/** More words than a note of the source's metadata has; a longer text is not printed as a whole. */
const MOST_PHRASE = 12;

const isWeak = (form: string): boolean => [...form].length < SHORTEST_ALONE || isCommonWord(form);

const isoOf = (value: string): string | null => {
  const found = /^\s*(\d{4})[-:./]?(\d{2})[-:./]?(\d{2})\s*$/.exec(value);
  return found ? `${found[1]}-${found[2]}-${found[3]}` : null;
};

function runsOf(iso: string): string[] {
  const [year = '', month = '', day = ''] = iso.split('-');
  const short = year.slice(2);
  return [`${short}${month}${day}`, `${day}${month}${short}`, `${month}${day}${short}`];
}

const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');

/** Lines that may stand, as whole lines: capitals and what stands between words do not matter. */
function allowedPattern(lines: readonly string[]): RegExp | null {
  const patterns = lines.flatMap((line) => {
    const words = line.normalize('NFC').match(/[\p{L}\p{M}\p{N}]+/gu) ?? [];
    if (fold(line).replace(/[^\p{L}\p{N}]/gu, '').length < SHORTEST_ALONE) return [];
    return [words.map(literal).join('[^\\p{L}\\p{N}]*')];
  });
  if (patterns.length === 0) return null;
  const longestFirst = patterns.toSorted((a, b) => b.length - a.length);
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${longestFirst.join('|')})(?![\\p{L}\\p{N}])`, 'giu');
}
