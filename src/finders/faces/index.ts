/**
 * Finds faces, whole and in part. Comes in: samples, and the weights of one net. Leaves: boxes in pixels of the picture
 * handed in, the surest first. Refuses: damaged weights and samples that do not fit their size, by throwing; the caller
 * holds the picture. The same picture gives the same boxes on the same kind of processor.
 */
import type { FaceFinder, FinderPicture, FoundBox, FoundFace } from '../finder.js';
import { areaOf, clipped, type Size, sharedArea } from '../text/boxes.js';
import { resampled } from '../text/resample.js';
import { type Quarters, scaledBox, turned, turnedBack } from '../text/turn.js';
import { faceNet, INPUT_PX, PLACES } from './face-net.js';
import { readPlaces } from './read-places.js';
import { readWeights } from './weights.js';

export { FACE_FINDER_VERSION } from './version.js';

/** A single-shot detector on MobileNet (MIT), weights of TensorFlow.js. */
export interface FaceModels {
  weights: Uint8Array;
  manifest: string;
}

/** Scores from which a place is a face. */
const LEAST_SCORE = 0.2;
/** Two boxes are the same face when they share this much of both together. */
const SAME_FACE = 0.4;
const ANCHORS = 'Output/extra_dim';

export async function openFaceFinder(models: FaceModels, options: { threads: number }): Promise<FaceFinder> {
  const { InferenceSession, Tensor } = await import('onnxruntime-node');
  const weights = readWeights(models.manifest, models.weights);
  const anchors = weights.get(ANCHORS)?.values;
  if (anchors?.length !== PLACES * 4) throw new Error('the face finder cannot be loaded');
  const session = await InferenceSession.create(faceNet(weights), {
    intraOpNumThreads: options.threads,
    interOpNumThreads: 1,
    executionMode: 'sequential',
    graphOptimizationLevel: 'all',
  });
  return {
    async find(picture) {
      const found: FoundFace[] = [];
      const fitted = fittedTo(picture);
      for (const quarters of [0, 1, 2, 3] as const) {
        const view = turned(fitted, quarters);
        const pictures = new Tensor('float32', netInput(view), [1, 3, INPUT_PX, INPUT_PX]);
        const { boxes, classes } = await session.run({ pictures });
        const places = readPlaces(
          boxes!.data as Float32Array,
          classes!.data as Float32Array,
          anchors,
          LEAST_SCORE,
        );
        for (const { left, top, right, bottom, score } of places) {
          const box = [left, top, right - left, bottom - top].map((one) => one * INPUT_PX) as FoundBox;
          found.push(...inPicture(box, score, quarters, fitted, picture));
        }
      }
      return distinct(found);
    },
  };
}

function inPicture(
  box: FoundBox,
  score: number,
  quarters: Quarters,
  fitted: Size,
  picture: Size,
): FoundFace[] {
  const whole = clipped(scaledBox(turnedBack(box, quarters, fitted), fitted, picture), picture);
  return whole ? [{ box: whole, score }] : [];
}

function fittedTo(picture: FinderPicture): FinderPicture {
  const scale = INPUT_PX / Math.max(picture.widthPx, picture.heightPx);
  return resampled(
    picture,
    Math.max(1, Math.round(picture.widthPx * scale)),
    Math.max(1, Math.round(picture.heightPx * scale)),
  );
}

/** Channels first, -1 to 1, the picture in the upper left corner, black beside and below it. */
function netInput({ data, widthPx, heightPx, channels }: FinderPicture): Float32Array {
  const input = new Float32Array(3 * INPUT_PX * INPUT_PX).fill(-1);
  for (let channel = 0; channel < 3; channel += 1) {
    const from = channels === 1 ? 0 : channel;
    for (let y = 0; y < heightPx; y += 1) {
      const row = (channel * INPUT_PX + y) * INPUT_PX;
      for (let x = 0; x < widthPx; x += 1)
        input[row + x] = data[(y * widthPx + x) * channels + from]! / 127.5 - 1;
    }
  }
  return input;
}

/** One box a face, the surest. */
function distinct(faces: readonly FoundFace[]): FoundFace[] {
  const kept: FoundFace[] = [];
  const surest = [...faces].sort((a, b) => b.score - a.score || a.box[1] - b.box[1] || a.box[0] - b.box[0]);
  for (const face of surest) {
    const isKnown = kept.some(({ box }) => {
      const shared = sharedArea(box, face.box);
      return shared > SAME_FACE * (areaOf(box) + areaOf(face.box) - shared);
    });
    if (!isKnown) kept.push(face);
  }
  return kept;
}
