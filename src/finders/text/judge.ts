/** Which candidates are text, and the boxes that hold them whole. All pure. */
import type { FoundBox, FoundText } from '../finder.js';
import { areaOf, clipped, grown, inReadingOrder, overlapOfSmaller, type Size, unionOf } from './boxes.js';
import { lettersIn, type ReadCandidate } from './read-candidates.js';

/** Two boxes are the same string, seen twice, when this much of the smaller lies in the other. */
const SAME_STRING = 0.6;

/** The recogniser's veto: lines of teeth or wire read as nothing, or as something it does not believe. */
export function isText(candidate: ReadCandidate): boolean {
  const letters = lettersIn(candidate.text);
  if (letters >= 2 && candidate.confidence >= 0.4) return true;
  if (candidate.by !== 'net') return letters === 1 && candidate.confidence >= 0.6;
  if (letters >= 1) return candidate.score >= 0.6 && candidate.confidence >= 0.5;
  return candidate.score >= 0.85;
}

/** Each end grown by the line's height: the detector loses the last pale letters. */
function grownAtEnds(box: FoundBox): FoundBox {
  const short = Math.min(box[2], box[3]);
  return box[2] >= box[3] ? grown(box, short, 0) : grown(box, 0, short);
}

/** What is text, one box a string, clipped, in reading order. */
export function judge(candidates: readonly ReadCandidate[], size: Size): FoundText[] {
  const texts: FoundText[] = [];
  const surest = candidates.filter(isText).sort((a, b) => areaOf(b.box) - areaOf(a.box));
  for (const { box, text, confidence, score, by } of surest) {
    const whole = clipped(grownAtEnds(box), size) as FoundBox;
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
