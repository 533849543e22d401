/**
 * Render: from an original and its stripped copy to the picture people look at.
 * In: both byte strings, the facts read from the original, and whether it is a radiograph and to be flipped.
 * Out: the display picture (upright, direct view, sRGB or grey, 8 bits, source pixel count, no metadata).
 * Refused, as held: a file that does not decode to its last pixel, more than 100 million pixels, and any pair whose
 * decoded pixels differ in a single bit.
 */

import { held, kept, type Outcome } from '../../core/outcome.js';
import type { PictureFacts } from '../../core/picture-facts.js';
import { decodeExact, PIXEL_LIMIT } from './decode-exact.js';
import { reasonOf } from './decode-trouble.js';
import { type Shaded, shadeDicom } from './dicom/shade.js';
import { drawDisplay, type Paint, type ShownSamples, showSamples } from './draw-display.js';
import { gate } from './gate.js';
import type { Pixels } from './pixels.js';

export type { Paint } from './draw-display.js';
export { type Reduced, type ReduceJob, reduce } from './reduce.js';

export interface RenderJob {
  original: Uint8Array;
  stripped: Uint8Array;
  facts: PictureFacts;
  /** Becomes 8-bit grey PNG instead of colour JPEG. */
  radiograph: boolean;
  /** A mirror view that the camera has not corrected: flipped once, left to right, after turning upright. */
  flip: boolean;
  /** Which frame of a DICOM object; counts from 1. Several frames and none named: held `several-frames`. */
  frame?: number | undefined;
  /** Paints covers, the last step before encoding. */
  paint?: Paint | undefined;
  /** Pixels above which nothing is decoded; 100 million when absent. */
  pixelLimit?: number | undefined;
}

export interface Rendered {
  display: Uint8Array;
  displayFormat: 'png' | 'jpg';
  /** Of the display picture, after turning. */
  widthPx: number;
  heightPx: number;
  /** What was done to the whole picture, in order, in plain words fit for a sheet; empty when nothing was. */
  processing: string[];
  /** Doubts about the file, for the practice only. */
  notes: string[];
}

export async function render(job: RenderJob): Promise<Outcome<Rendered>> {
  const { original, stripped, facts } = job;
  const pixelLimit = job.pixelLimit ?? PIXEL_LIMIT;
  const gated = await gate({ original, stripped, format: facts.format, pixelLimit, frame: job.frame });
  if (gated.kind !== 'kept') return gated;
  const shaded = shade(gated.value.pixels, job, stripped);
  if (shaded.kind !== 'kept') return shaded;
  const notes = [...gated.value.notes, ...shaded.value.notes];
  try {
    const { orientation } = facts;
    const drawn = await drawDisplay(shaded.value.pixels, {
      orientation,
      radiograph: job.radiograph,
      flip: job.flip,
      paint: job.paint,
    });
    return kept({ ...drawn, processing: [...shaded.value.processing, ...drawn.processing], notes });
  } catch (error) {
    return held(reasonOf(error as Error, facts.format));
  }
}

/** Stored numbers as greys and colours; only DICOM objects say how, all others are what they show. */
function shade(
  pixels: Pixels,
  { original, facts, frame = 1 }: Pick<RenderJob, 'original' | 'facts' | 'frame'>,
  stripped: Uint8Array | null,
): Outcome<Shaded> {
  if (facts.format === 'DICOM') return shadeDicom(pixels, original, frame, stripped);
  return kept({ pixels, processing: [], notes: [] });
}

/** The display picture's samples straight from an original, for a finder; proves nothing and encodes nothing. */
export async function showOriginal(
  job: Pick<RenderJob, 'original' | 'facts' | 'radiograph' | 'flip' | 'pixelLimit' | 'frame'>,
): Promise<Outcome<ShownSamples>> {
  const { original, facts, radiograph, flip } = job;
  const decoded = await decodeExact(original, facts.format, job.pixelLimit ?? PIXEL_LIMIT, job.frame);
  if (decoded.kind !== 'kept') return decoded;
  const shaded = shade(decoded.value.pixels, job, null);
  if (shaded.kind !== 'kept') return shaded;
  try {
    const { orientation } = facts;
    return kept(await showSamples(shaded.value.pixels, { orientation, radiograph, flip }));
  } catch (error) {
    return held(reasonOf(error as Error, facts.format));
  }
}
