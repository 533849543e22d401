/** Which candidates are text, and the boxes that hold them whole. All pure. */
import type { FoundBox, FoundText } from '../finder.js';
import { areaOf, clipped, grown, inReadingOrder, overlapOfSmaller, type Size, unionOf } from './boxes.js';
import { lettersIn, type ReadCandidate } from './read-candidates.js';

/** Two boxes are the same string, seen twice, when this much of the smaller lies in the other. */
const SAME_STRING = 0.6;

/** Boxes of lettering up to 40 pixels tall are not higher than this; what is higher is mostly teeth. */
const SMALL_PX = 64;

/** What a candidate must show: letters, read this surely, filling the box as letters of one line do. */
interface Demand {
  letters: number;
  confidence: number;
  fill: number;
  score: number;
}

/** A rule on pixels finds many a dot and ring; its lone letters must be read without doubt. */
const BY_RULE: readonly Demand[] = [
  { letters: 2, confidence: 0.75, fill: 0.7, score: 0 },
  { letters: 1, confidence: 0.92, fill: 0.35, score: 0 },
];

/** Any one of the row lets a small candidate pass; measured on the seed that settings are chosen on. */
const SMALL: readonly Demand[] = [
  { letters: 3, confidence: 0.4, fill: 0.5, score: 0 },
  { letters: 2, confidence: 0.6, fill: 0.5, score: 0 },
  { letters: 1, confidence: 0.6, fill: 0.35, score: 0.5 },
  // Turned by a few degrees, pale, or of a script the recogniser does not know: hardly read, but surely seen.
  { letters: 1, confidence: 0.2, fill: 0.2, score: 0.75 },
];
const LARGE: readonly Demand[] = [
  { letters: 4, confidence: 0.75, fill: 1, score: 0.5 },
  { letters: 2, confidence: 0.9, fill: 0.9, score: 0.5 },
];

/** Letters for one height of the line: about 1.5 in print, far less in a tooth that reads as an O. */
function fillOf({ box, text }: ReadCandidate): number {
  const [short, long] = [Math.min(box[2], box[3]), Math.max(box[2], box[3])];
  return (lettersIn(text) * short) / long;
}

/** The recogniser's veto: lines of teeth or wire read as nothing, or as something it does not believe. */
export function isText(candidate: ReadCandidate): boolean {
  const small = Math.min(candidate.box[2], candidate.box[3]) <= SMALL_PX;
  const demands = !small ? LARGE : candidate.by === 'net' ? SMALL : BY_RULE;
  const letters = lettersIn(candidate.text);
  const fill = fillOf(candidate);
  return demands.some(
    (demand) =>
      letters >= demand.letters &&
      candidate.confidence >= demand.confidence &&
      fill >= demand.fill &&
      candidate.score >= demand.score,
  );
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
  const surest = candidates.filter(isText).sort((a, b) => areaOf(b.box) - areaOf(a.box));
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
