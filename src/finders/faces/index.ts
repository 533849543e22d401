/**
 * Finds faces, whole and in part. Comes in: samples, and the weights of one net. Leaves: boxes in pixels of the picture
 * handed in, the surest first. Refuses: damaged weights and samples that do not fit their size, by throwing; the caller
 * holds the picture. The same picture gives the same boxes on the same kind of processor.
 */
import type { FaceFinder, FinderPicture, FoundFace } from '../finder.js';
import { clipped, overlapOfSmaller } from '../text/boxes.js';
import { faceNet, INPUT_PX, PLACES } from './face-net.js';
import { isFace, LEAST_SCORE, readPlaces } from './read-places.js';
import { viewsOf } from './views.js';
import { readWeights } from './weights.js';

export { FACE_FINDER_VERSION } from './version.js';

/** A single-shot detector on MobileNet (MIT), weights of TensorFlow.js. */
export interface FaceModels {
  weights: Uint8Array;
  manifest: string;
}

/** Two boxes are the same face when they share this much of the smaller. */
const SAME_FACE = 0.5;
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
      demandFit(picture);
      const found: FoundFace[] = [];
      for (const view of viewsOf(picture)) {
        const pictures = new Tensor('float32', view.samples, [1, 3, INPUT_PX, INPUT_PX]);
        const { boxes, classes } = await session.run({ pictures });
        const seen = [boxes, classes].map((one) => one!.data as Float32Array);
        const places = readPlaces(seen[0]!, seen[1]!, anchors, LEAST_SCORE);
        for (const place of places.filter((one) => isFace(one, view.kind))) {
          const box = clipped(view.toPicture(place.box), picture);
          if (box) found.push({ box, score: place.score });
        }
      }
      return distinct(found);
    },
  };
}

function demandFit({ data, widthPx, heightPx, channels }: FinderPicture): void {
  if (widthPx < 1 || heightPx < 1 || data.length !== widthPx * heightPx * channels) {
    throw new Error('the samples do not fit the size of the picture');
  }
}

/** One box a face, the surest. */
function distinct(faces: readonly FoundFace[]): FoundFace[] {
  const surest = [...faces].sort((a, b) => b.score - a.score || a.box[1] - b.box[1] || a.box[0] - b.box[0]);
  const kept: FoundFace[] = [];
  for (const face of surest) {
    if (kept.every(({ box }) => overlapOfSmaller(box, face.box) < SAME_FACE)) kept.push(face);
  }
  return kept;
}
