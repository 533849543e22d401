/** Which of the texts found may stay, and why. All pure. */
import type { FoundBox, FoundText } from '../../finders/finder.js';
import { isAllowedText } from './allowed-text.js';
import type { CoverInput } from './covering.js';

/** An allowed text stays only when read this surely, mean of the reading, 0-1. */
const SURE_READING = 0.9;
/** Below either the finder is not sure that there is text, or what it says. */
const SURE_PLACE = 0.7;
const READABLE = 0.75;

/** Covered all the same; a person should look whether it is text at all. */
export const isDoubtful = ({ score, confidence, text }: FoundText): boolean =>
  score < SURE_PLACE || confidence < READABLE || text.trim() === '';

type Keep = CoverInput['entry']['keep'][number];

export const isSigned = ({ by }: { by: string | null }): boolean => by !== null && by.trim() !== '';

/** True when the whole of `inner` lies in `outer`. */
export const holds = (outer: readonly number[], inner: FoundBox): boolean => {
  const [x, y, width, height] = outer as FoundBox;
  return (
    inner[0] >= x && inner[1] >= y && inner[0] + inner[2] <= x + width && inner[1] + inner[3] <= y + height
  );
};

/** Texts without those that may stay: kept by a named person, or surely read, allowed and alone. */
export function textsToCover(texts: readonly FoundText[], keeps: readonly Keep[]): FoundText[] {
  return texts.filter((one) => {
    const isKept = keeps.some((keep) => isSigned(keep) && holds(keep.box, one.box));
    return !isKept && !mayStay(one, texts);
  });
}

function mayStay(one: FoundText, all: readonly FoundText[]): boolean {
  if (!isAllowedText(one.text) || one.confidence < SURE_READING) return false;
  return explainsItsBox(one) && !all.some((other) => other !== one && isOneLine(one.box, other.box));
}

/**
 * A box much longer than its reading holds more than was read. A capital is at most as wide as a line is high, and the
 * finder lets a box stand out by its short side at both ends.
 */
function explainsItsBox({ box, text }: FoundText): boolean {
  const short = Math.min(box[2], box[3]);
  return Math.max(box[2], box[3]) <= short * ([...text.trim()].length + 2.5);
}

/**
 * True for neighbours in one line, across or upright: an R or a digit close to another text is a piece of a longer
 * string that the finder took apart, such as an initial or a part of a date.
 */
function isOneLine(a: FoundBox, b: FoundBox): boolean {
  return isRow(a, b) || isRow(turned(a), turned(b));
}

const turned = ([x, y, width, height]: FoundBox): FoundBox => [y, x, height, width];

function isRow(a: FoundBox, b: FoundBox): boolean {
  const lower = Math.min(a[3], b[3]);
  const shared = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  const gap = Math.max(a[0], b[0]) - Math.min(a[0] + a[2], b[0] + b[2]);
  // half a line height between boxes that already stand out by one at each end: a wide word space
  return shared >= lower / 2 && gap <= lower / 2;
}
