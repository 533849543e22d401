/** From what the net says of its places to boxes with scores. All pure. */
import type { FoundBox } from '../finder.js';
import { CLASSES, INPUT_PX, PLACES } from './face-net.js';
import type { View } from './views.js';

/** By how much the net's four numbers are enlarged, as it was trained. */
const CENTRE_GAIN = 10;
const SIZE_GAIN = 5;

export interface Place {
  /** Pixels of the view; may reach over its edge. */
  box: FoundBox;
  score: number;
}

/**
 * @param boxes   four numbers a place: down, right, height, width, against the anchor
 * @param classes the second of three numbers a place tells a face
 * @param anchors four numbers a place: top, left, bottom, right, in shares of the view
 */
export function readPlaces(
  boxes: Float32Array,
  classes: Float32Array,
  anchors: Float32Array,
  least: number,
): Place[] {
  const places: Place[] = [];
  for (let at = 0; at < PLACES; at += 1) {
    const score = 1 / (1 + Math.exp(-classes[at * CLASSES + 1]!));
    if (score >= least) places.push({ box: boxAt(boxes, anchors, at * 4), score });
  }
  return places;
}

function boxAt(boxes: Float32Array, anchors: Float32Array, at: number): FoundBox {
  const [top, left] = [anchors[at]!, anchors[at + 1]!];
  const [tall, wide] = [anchors[at + 2]! - top, anchors[at + 3]! - left];
  const middleY = top + tall / 2 + (boxes[at]! / CENTRE_GAIN) * tall;
  const middleX = left + wide / 2 + (boxes[at + 1]! / CENTRE_GAIN) * wide;
  const height = Math.exp(boxes[at + 2]! / SIZE_GAIN) * tall;
  const width = Math.exp(boxes[at + 3]! / SIZE_GAIN) * wide;
  return [
    (middleX - width / 2) * INPUT_PX,
    (middleY - height / 2) * INPUT_PX,
    width * INPUT_PX,
    height * INPUT_PX,
  ];
}

/**
 * Scores from which a place is a face. A tooth that fills the picture looks a little like one: what fills the whole
 * view needs more, and is seen again in the framed view; what is tiny there is seen again in the whole one. Measured:
 * `npm run bench:faces`.
 */
const LEAST = { whole: 0.3, wholeFilling: 0.7, framed: 0.33 } as const;
export const LEAST_SCORE = LEAST.whole;
const FILLING_PX = INPUT_PX * 0.6;
const TINY_PX = INPUT_PX * 0.1;

export function isFace({ box, score }: Place, kind: View['kind']): boolean {
  const shorter = Math.min(box[2], box[3]);
  if (kind === 'framed') return shorter >= TINY_PX && score >= LEAST.framed;
  return score >= (shorter > FILLING_PX ? LEAST.wholeFilling : LEAST.whole);
}
