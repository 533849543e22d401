import sharp from 'sharp';
import { held, kept, type Outcome } from '../../core/outcome.js';
import { PIXEL_LIMIT } from './decode-exact.js';
import { reasonOf } from './decode-trouble.js';

export interface ReduceJob {
  bytes: Uint8Array;
  maxWidthPx: number;
  maxHeightPx: number;
  /** One grey channel instead of three of colour. */
  grey: boolean;
  /** JPEG quality 1-100; 88 when absent. */
  quality?: number | undefined;
}

export interface Reduced {
  jpeg: Uint8Array;
  widthPx: number;
  heightPx: number;
}

/**
 * A picture small enough for print: a JPEG within the given box, proportions kept, never enlarged, no metadata,
 * turned upright where an original says how (display pictures are upright already); a mirror view stays one. Held `damaged` when the bytes do not decode to the end.
 */
export async function reduce(job: ReduceJob): Promise<Outcome<Reduced>> {
  try {
    const { data, info } = await sharp(job.bytes, {
      failOn: 'warning',
      limitInputPixels: PIXEL_LIMIT,
      pages: 1,
    })
      .autoOrient()
      .resize({ width: job.maxWidthPx, height: job.maxHeightPx, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace(job.grey ? 'b-w' : 'srgb')
      .jpeg({ quality: job.quality ?? 88, chromaSubsampling: '4:4:4', optimizeCoding: false })
      .toBuffer({ resolveWithObject: true });
    return kept({ jpeg: data, widthPx: info.width, heightPx: info.height });
  } catch (error) {
    return held(reasonOf(error as Error, 'picture'));
  }
}
