/**
 * Finds text burned into a picture. Comes in: samples, and the bytes of two nets (a detector and a recogniser).
 * Leaves: boxes in pixels of the picture handed in, grown so that they hold whole strings, each with what it was read
 * as. Refuses: damaged models and samples that do not fit their size, by throwing; the caller holds the picture.
 * The same picture gives the same boxes on the same kind of processor.
 */
import type { FinderPicture, TextFinder } from '../finder.js';
import { candidatesOf } from './candidates.js';
import type { Net } from './detector.js';
import { judge } from './judge.js';
import { readCandidates } from './read-candidates.js';
import { readKeys } from './recogniser.js';

/** Files of the PP-OCRv4 family (Apache 2.0) as ONNX. */
export interface TextModels {
  detector: Uint8Array;
  recogniser: Uint8Array;
  /** The recogniser's characters, one a line. */
  keys: string;
}

/** The net's classes are "no character", the keys and the space: another list would read other letters. */
function demandKeys(net: Net, keys: readonly string[]): void {
  const output = net.session.outputMetadata[0];
  const classes = output?.isTensor ? output.shape.at(-1) : null;
  if (classes !== keys.length) throw new Error('the characters of the text finder do not fit its recogniser');
}

async function openNet(name: string, bytes: Uint8Array, threads: number): Promise<Net> {
  const { InferenceSession, Tensor } = await import('onnxruntime-node');
  try {
    const session = await InferenceSession.create(bytes, {
      intraOpNumThreads: threads,
      interOpNumThreads: 1,
      executionMode: 'sequential',
      graphOptimizationLevel: 'all',
      // Threads that wait by spinning take the processor from the other child; measured twice the processor time.
      extra: { session: { intra_op: { allow_spinning: '0' } } },
    });
    const kept = { input: new Float32Array(0), output: new Float32Array(0) };
    return {
      session,
      tensor: (data, shape) => new Tensor('float32', data, shape),
      scratch(name, length) {
        if (kept[name].length < length) kept[name] = new Float32Array(length);
        return kept[name].subarray(0, length);
      },
    };
  } catch (error) {
    throw new Error(`the ${name} of the text finder cannot be loaded`, { cause: error });
  }
}

function demandFit({ data, widthPx, heightPx, channels }: FinderPicture): void {
  if (widthPx < 1 || heightPx < 1 || data.length !== widthPx * heightPx * channels) {
    throw new Error('the samples do not fit the size of the picture');
  }
}

/** Loads both nets; about 60 MB, and up to about a gigabyte while it works. One picture at a time. */
export async function openTextFinder(models: TextModels, options: { threads: number }): Promise<TextFinder> {
  const keys = readKeys(models.keys);
  const detector = await openNet('detector', models.detector, options.threads);
  const recogniser = await openNet('recogniser', models.recogniser, options.threads);
  demandKeys(recogniser, keys);
  return {
    async find(picture) {
      demandFit(picture);
      const candidates = await candidatesOf(detector, picture);
      return judge(await readCandidates(recogniser, keys, picture, candidates), picture);
    },
  };
}
