/** Which candidates are text, and the boxes that hold them whole. All pure. */
import type { FoundBox, FoundText } from '../finder.js';
import { areaOf, clipped, grown, inReadingOrder, overlapOfSmaller, type Size, unionOf } from './boxes.js';
import { lettersIn, type ReadCandidate } from './read-candidates.js';

/** Two boxes are the same string, seen twice, when this much of the smaller lies in the other. */
const SAME_STRING = 0.6;

/** What a candidate must show: letters, read this surely, filling the box as letters of one line do. */
interface Demand {
  letters: number;
  confidence: number;
  fill: number;
  score: number;
}

/**
 * Any one of a row lets a candidate pass. The taller the box, the more it must show: what is tall is mostly teeth.
 * All measured on the seed that settings are chosen on.
 */
const SMALL: readonly Demand[] = [
  { letters: 3, confidence: 0.4, fill: 0.5, score: 0 },
  { letters: 2, confidence: 0.6, fill: 0.5, score: 0 },
  { letters: 1, confidence: 0.6, fill: 0.35, score: 0.5 },
  // Turned by a few degrees, pale, or of a script the recogniser does not know: hardly read, but surely seen.
  { letters: 1, confidence: 0.2, fill: 0.2, score: 0.75 },
];
const MIDDLE: readonly Demand[] = [
  { letters: 4, confidence: 0.5, fill: 0.8, score: 0.5 },
  { letters: 2, confidence: 0.9, fill: 0.85, score: 0.5 },
  { letters: 1, confidence: 0.75, fill: 0.7, score: 0.7 },
];
const LONG_LINE: Demand = { letters: 6, confidence: 0.55, fill: 1, score: 0.5 };
const LARGE: readonly Demand[] = [
  LONG_LINE,
  { letters: 4, confidence: 0.7, fill: 1, score: 0.5 },
  { letters: 2, confidence: 0.95, fill: 0.9, score: 0.5 },
];
/** A rule on pixels finds many a dot and ring; its lone letters must be read without doubt. */
const BY_RULE: readonly Demand[] = [
  { letters: 2, confidence: 0.75, fill: 0.7, score: 0 },
  { letters: 1, confidence: 0.92, fill: 0.35, score: 0 },
];

/** Heights of boxes; that of a line is about one and a half times that of its capitals. */
const SMALL_PX = 32;
const MIDDLE_PX = 64;
/** Nobody prints lines this high into a picture: share of its shorter side; a slanting line may fill a higher box. */
const HIGHEST_SHARE = 0.2;
const HIGHEST_SLANTING_SHARE = 0.35;

function demandsOn({ box, by }: ReadCandidate, size: Size): readonly Demand[] {
  const short = Math.min(box[2], box[3]);
  if (short <= MIDDLE_PX && by !== 'net') return BY_RULE;
  if (short <= SMALL_PX) return SMALL;
  if (short <= MIDDLE_PX) return MIDDLE;
  const share = short / Math.min(size.widthPx, size.heightPx);
  if (share <= HIGHEST_SHARE) return LARGE;
  return share <= HIGHEST_SLANTING_SHARE ? [LONG_LINE] : [];
}

/** Letters for one height of the line: about 1.5 in print, far less in a tooth that reads as an O. */
function fillOf({ box, text }: ReadCandidate): number {
  const [short, long] = [Math.min(box[2], box[3]), Math.max(box[2], box[3])];
  return (lettersIn(text) * short) / long;
}

/** The recogniser's veto: lines of teeth or wire read as nothing, or as something it does not believe. */
export function isText(candidate: ReadCandidate, size: Size): boolean {
  const letters = lettersIn(candidate.text);
  const fill = fillOf(candidate);
  return demandsOn(candidate, size).some(
    (demand) =>
      letters >= demand.letters &&
      candidate.confidence >= demand.confidence &&
      fill >= demand.fill &&
      candidate.score >= demand.score,
  );
}

/** True when the second box may be a piece of the first one's line: of its height, beside it, a word space away. */
function isBeside(a: FoundBox, b: FoundBox): boolean {
  const [low, high] = [Math.min(a[3], b[3]), Math.max(a[3], b[3])];
  const shared = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  const gap = Math.max(a[0], b[0]) - Math.min(a[0] + a[2], b[0] + b[2]);
  return high <= 2.2 * low && shared >= 0.6 * low && gap > -low && gap <= 1.6 * high;
}

const onItsSide = ([x, y, width, height]: FoundBox): FoundBox => [y, x, height, width];

/**
 * Candidates that pass, and of the others the pieces of lines that do: an initial or a dot too small to be read by
 * itself stands beside what was read.
 */
export function passing(candidates: readonly ReadCandidate[], size: Size): ReadCandidate[] {
  const sure = candidates.filter((one) => isText(one, size));
  const pieces = candidates.filter(({ box, text }) => {
    const beside = (known: ReadCandidate): boolean =>
      (known.box[2] >= known.box[3] && isBeside(known.box, box)) ||
      (known.box[3] >= known.box[2] && isBeside(onItsSide(known.box), onItsSide(box)));
    return lettersIn(text) > 0 && Math.max(box[2], box[3]) <= MIDDLE_PX && sure.some(beside);
  });
  return [...new Set([...sure, ...pieces])];
}

/** A sure reading makes it surer that there is text at all. */
const surenessOf = ({ score, confidence, text }: ReadCandidate): number =>
  lettersIn(text) >= 2 ? 1 - (1 - score) * (1 - confidence) : score;

/** Accents, commas and the outline of the letters stand out of the line the detector was taught to see. */
const ACROSS_SHARE = 0.15;

/** Each end grown by the line's height, since the detector loses the last pale letters; the sides by a little. */
function grownWhole(box: FoundBox): FoundBox {
  const short = Math.min(box[2], box[3]);
  const side = Math.max(1, short * ACROSS_SHARE);
  return box[2] >= box[3] ? grown(box, short, side) : grown(box, side, short);
}

/** What is text, one box a string, clipped, in reading order. */
export function judge(candidates: readonly ReadCandidate[], size: Size): FoundText[] {
  const texts: FoundText[] = [];
  const surest = passing(candidates, size).sort((a, b) => areaOf(b.box) - areaOf(a.box));
  for (const one of surest) {
    const { box, text, confidence, by } = one;
    const score = surenessOf(one);
    const whole = clipped(grownWhole(box), size) as FoundBox;
    const same = texts.find((known) => overlapOfSmaller(known.box, whole) >= SAME_STRING);
    if (!same) {
      texts.push({ box: whole, text, confidence, score, by });
      continue;
    }
    same.box = unionOf(same.box, whole);
    same.score = Math.max(same.score, score);
    if (by === 'net') same.by = 'net';
    if (lettersIn(text) * confidence > lettersIn(same.text) * same.confidence) {
      same.text = text;
      same.confidence = confidence;
    }
  }
  return inReadingOrder(texts);
}
