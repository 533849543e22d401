/** From what the net says of its places to boxes with scores. All pure. */
import { CLASSES, PLACES } from './face-net.js';

/** Sides in shares of the net's square input, may reach over its edge. */
export interface PlacedFace {
  left: number;
  top: number;
  right: number;
  bottom: number;
  score: number;
}

/** By how much the net's four numbers are enlarged, as it was trained. */
const CENTRE_GAIN = 10;
const SIZE_GAIN = 5;

/**
 * @param boxes   four numbers a place: down, right, height, width, against the anchor
 * @param classes the second of three numbers a place tells a face
 * @param anchors four numbers a place: top, left, bottom, right
 */
export function readPlaces(
  boxes: Float32Array,
  classes: Float32Array,
  anchors: Float32Array,
  least: number,
): PlacedFace[] {
  const faces: PlacedFace[] = [];
  for (let at = 0; at < PLACES; at += 1) {
    const score = 1 / (1 + Math.exp(-classes[at * CLASSES + 1]!));
    if (score < least) continue;
    const [top, left, bottom, right] = anchors.subarray(at * 4, at * 4 + 4) as unknown as [
      number,
      number,
      number,
      number,
    ];
    const [down, across, tall, wide] = boxes.subarray(at * 4, at * 4 + 4) as unknown as [
      number,
      number,
      number,
      number,
    ];
    const [height, width] = [bottom - top, right - left];
    const middleY = top + height / 2 + (down / CENTRE_GAIN) * height;
    const middleX = left + width / 2 + (across / CENTRE_GAIN) * width;
    const halfY = (Math.exp(tall / SIZE_GAIN) * height) / 2;
    const halfX = (Math.exp(wide / SIZE_GAIN) * width) / 2;
    faces.push({
      left: middleX - halfX,
      top: middleY - halfY,
      right: middleX + halfX,
      bottom: middleY + halfY,
      score,
    });
  }
  return faces;
}
