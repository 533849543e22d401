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
 * Scores from which a place is a face, by the shorter side of its box in the view: the first line it stays under holds.
 * Hardly anything in films and stills of teeth looks like a face of middling size; a tooth, or a round slice, that fills the
 * view does a little, and so do tiny spots. What is tiny or fills a view is of middling size in the other kind, so a
 * high bar there costs little. Set on 455 films and stills without a face, of which 4 pass for one, measured on others:
 * `npm run bench:faces`.
 */
const LEAST: Record<View['kind'], readonly { underPx: number; score: number }[]> = {
  whole: [
    { underPx: 0.15 * INPUT_PX, score: 0.42 },
    { underPx: 0.6 * INPUT_PX, score: 0.23 },
    { underPx: Number.POSITIVE_INFINITY, score: 0.7 },
  ],
  framed: [
    { underPx: 0.06 * INPUT_PX, score: 1 },
    { underPx: 0.1 * INPUT_PX, score: 0.4 },
    { underPx: 0.27 * INPUT_PX, score: 0.16 },
    { underPx: Number.POSITIVE_INFINITY, score: 0.45 },
  ],
};
/** No lower score is ever a face. */
export const LEAST_SCORE = 0.15;

export function isFace({ box, score }: Place, kind: View['kind']): boolean {
  const shorter = Math.min(box[2], box[3]);
  const bar = LEAST[kind].find(({ underPx }) => shorter < underPx);
  return bar !== undefined && score >= bar.score;
}
