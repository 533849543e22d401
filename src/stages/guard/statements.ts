/** From the texts of one picture to what they say about its patient: label and value, also in two boxes. All pure. */
import type { FoundBox, FoundText } from '../../finders/finder.js';
import { type Labelled, splitAtLabels } from './labels.js';
import { bareName } from './name-forms.js';

export interface Statement {
  kind: 'name' | 'birth' | 'number';
  /** Folded, as read. */
  value: string;
  /** Of a number: the device itself may have given it. Of a name: two words that only their place makes a name. */
  weak: boolean;
  /** Mean confidence of the reading, 0-1. */
  confidence: number;
}

interface Line {
  found: FoundText;
  before: string;
  labelled: Labelled[];
}

export function statementsIn(texts: readonly FoundText[]): Statement[] {
  const lines = texts
    .filter(({ text }) => text.trim() !== '')
    .map((found): Line => ({ found, ...splitAtLabels(found.text) }));
  const taken = new Set<Line>();
  const statements = lines.flatMap((line) => labelledBy(line, lines, taken));
  const bare = lines.filter((line) => !taken.has(line)).flatMap((line) => barelyIn(line, lines));
  return [...statements, ...bare];
}

function labelledBy(line: Line, lines: readonly Line[], taken: Set<Line>): Statement[] {
  return line.labelled.flatMap(({ kind, byDevice, value }, at): Statement[] => {
    const elsewhere = value === '' && at === line.labelled.length - 1 ? valueFor(line, lines) : null;
    if (elsewhere) taken.add(elsewhere);
    if (kind === 'nobody') return [];
    const said = value === '' ? (elsewhere?.before ?? '') : value;
    const confidence = elsewhere?.found.confidence ?? line.found.confidence;
    return said === '' ? [] : [{ kind, value: said, weak: byDevice, confidence }];
  });
}

/** How far, in line heights, a value may stand behind its label, or below it. */
const FARTHEST_RIGHT = 8;
const FARTHEST_BELOW = 1.5;

const isBare = ({ before, labelled }: Line): boolean => before !== '' && labelled.length === 0;

/** The nearest text behind a label in its line, else the one below that begins about where it does. */
function valueFor(label: Line, lines: readonly Line[]): Line | null {
  const bare = lines.filter((line) => line !== label && isBare(line));
  return (
    nearest(bare, (line) => gapBehind(label.found.box, line.found.box)) ??
    nearest(bare, (line) => gapBelow(label.found.box, line.found.box))
  );
}

function nearest(lines: readonly Line[], gapTo: (line: Line) => number | null): Line | null {
  let best: { line: Line; gap: number } | null = null;
  for (const line of lines) {
    const gap = gapTo(line);
    if (gap !== null && (best === null || gap < best.gap)) best = { line, gap };
  }
  return best?.line ?? null;
}

const shareOf = (from: number, length: number, other: number, otherLength: number): number =>
  (Math.min(from + length, other + otherLength) - Math.max(from, other)) / Math.min(length, otherLength);

/** Pixels between the end of one box and the start of the next in its line; boxes may overlap at the ends. */
function gapBehind(label: FoundBox, value: FoundBox): number | null {
  const isLine = shareOf(label[1], label[3], value[1], value[3]) >= 0.5;
  const gap = value[0] - (label[0] + label[2]);
  const isBehind = value[0] >= label[0] + label[2] / 2 && gap <= FARTHEST_RIGHT * label[3];
  return isLine && isBehind ? Math.max(0, gap) : null;
}

function gapBelow(label: FoundBox, value: FoundBox): number | null {
  const gap = value[1] - (label[1] + label[3]);
  const isBelow = value[1] >= label[1] + label[3] / 2 && gap <= FARTHEST_BELOW * label[3];
  const isUnder = value[0] <= label[0] + label[2] && value[0] >= label[0] - 3 * label[3];
  return isBelow && isUnder ? Math.max(0, gap) : null;
}

/** A name without a label: in a form that nothing else has, or as the head of a block with a number or birth date. */
function barelyIn(line: Line, lines: readonly Line[]): Statement[] {
  const name = bareName(line.before);
  if (name === null) return [];
  const { confidence } = line.found;
  if (name.form === 'sure') return [{ kind: 'name', value: name.value, weak: false, confidence }];
  const heads = tellsPatient(line.labelled) || lines.some((other) => isOver(line, other));
  return heads ? [{ kind: 'name', value: name.value, weak: true, confidence }] : [];
}

const tellsPatient = (labelled: readonly Labelled[]): boolean =>
  labelled.some(({ kind }) => kind === 'birth' || kind === 'number');

const isOver = (line: Line, other: Line): boolean =>
  other !== line && tellsPatient(other.labelled) && gapBelow(line.found.box, other.found.box) !== null;
