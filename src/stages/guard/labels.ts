/** Finds the labels in one text read from pixels and what stands after each. All pure. */
import { asRead, foldedText } from './as-read.js';
import { DEVICE_NUMBER, LABEL_WORDS, type LabelKind } from './label-words.js';

export interface Labelled {
  kind: LabelKind;
  /** A number that the device itself may have given. */
  byDevice: boolean;
  /** Folded; "" when the label ends the text, and its value stands in another one. */
  value: string;
}

export interface SplitText {
  /** What stands before the first label, folded. */
  before: string;
  labelled: Labelled[];
}

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');

/** Points, hyphens and spaces inside a label come and go. */
const patternOf = (label: string): string =>
  asRead(foldedText(label))
    .split(/[\s._-]+/)
    .map(escaped)
    .join('[\\s._-]*');

interface Label {
  kind: LabelKind;
  word: string;
  pattern: RegExp;
}

/** Longest first, so that "patient id" is not a "patient". */
const LABELS: readonly Label[] = (Object.keys(LABEL_WORDS) as LabelKind[])
  .flatMap((kind) =>
    LABEL_WORDS[kind].map((word) => ({ kind, word, pattern: new RegExp(patternOf(word), 'uy') })),
  )
  .sort((a, b) => b.word.length - a.word.length || (a.word < b.word ? -1 : 1));

const BY_FIRST_SIGN = new Map<string, Label[]>();
for (const label of LABELS) {
  const sign = [...asRead(foldedText(label.word))][0] ?? '';
  BY_FIRST_SIGN.set(sign, [...(BY_FIRST_SIGN.get(sign) ?? []), label]);
}

/** Where a word can begin. */
const EDGE = /(?:^|[\s,;|/()[\]·•])(?=[^\s,;|/()[\]·•])/gu;

interface FoundLabel {
  label: Label;
  start: number;
  end: number;
}

/** Readers lose spaces: a date that runs on from a word is parted from it. */
const DATE_RUN_ON = /(?<=\p{L}{2})(?=\d{1,4}([-./])\d{1,2}\1\d{2,4}(?!\d))/gu;

/** @param text as the reader gave it */
export function splitAtLabels(text: string): SplitText {
  const folded = foldedText(text).replace(DATE_RUN_ON, ' ');
  const found = labelsIn(folded);
  const labelled = found.map(({ label, end }, at) => ({
    kind: label.kind,
    byDevice: label.kind === 'number' && DEVICE_NUMBER.test(label.word),
    value: trimmed(folded.slice(end, found[at + 1]?.start ?? folded.length)),
  }));
  return { before: trimmed(folded.slice(0, found[0]?.start ?? folded.length)), labelled };
}

function labelsIn(folded: string): FoundLabel[] {
  const mapped = asRead(folded);
  const found: FoundLabel[] = [];
  for (const edge of folded.matchAll(EDGE)) {
    const start = edge.index + edge[0].length;
    if (start < (found.at(-1)?.end ?? 0)) continue;
    const one = labelAt(folded, mapped, start);
    if (one) found.push(one);
  }
  return found;
}

function labelAt(folded: string, mapped: string, start: number): FoundLabel | null {
  for (const label of BY_FIRST_SIGN.get(String.fromCodePoint(mapped.codePointAt(start) ?? 0)) ?? []) {
    label.pattern.lastIndex = start;
    const end = label.pattern.test(mapped) ? label.pattern.lastIndex : -1;
    if (end > start && isLabel(label, folded, start, end)) return { label, start, end };
  }
  return null;
}

const WIDE = /\p{Script=Han}|\p{Script=Katakana}|\p{Script=Hiragana}/u;

/** In the middle of a text a word such as "name" is a label only before a colon. */
function isLabel({ kind, word }: Label, folded: string, start: number, end: number): boolean {
  const rest = folded.slice(end);
  if (/^\p{L}/u.test(rest) && !WIDE.test(word)) return false;
  if (start === 0 || kind !== 'name') return true;
  return /^\s?[:=#]/.test(rest);
}

const trimmed = (text: string): string => text.replace(/^[\s:.=#,;|°)\-–—]+|[\s:=#,;|(\-–—]+$/g, '');
