import sharp, { type Sharp } from 'sharp';
import { greyRangeOf, mapToEightBits } from './grey-range.js';
import { neutralChannel, type Pixels, wordsOf } from './pixels.js';
import { keepNeededChunks } from './png-chunks.js';
import { flipped, swapsSides, uprightPose } from './pose.js';
import { wrapAsTiff } from './wrap-as-tiff.js';

/** Paints over parts of the finished picture, in place, before it is encoded: 8-bit samples, channels interleaved. */
export type Paint = (
  samples: Uint8Array,
  size: { widthPx: number; heightPx: number; channels: 1 | 3 },
) => void;

export interface ShowJob {
  orientation: number;
  radiograph: boolean;
  flip: boolean;
}

export interface Drawn {
  display: Uint8Array;
  displayFormat: 'png' | 'jpg';
  widthPx: number;
  heightPx: number;
  processing: string[];
}

/** How colour display pictures are written. Optimal coding tables cost ten times the time for 5 % of the size. */
const JPEG = { quality: 92, chromaSubsampling: '4:4:4', optimizeCoding: false } as const;

/**
 * The display picture: upright, direct view, 8 bits, source pixel count, no metadata. Radiographs become grey PNG,
 * everything else sRGB JPEG with three channels. `processing` says in plain words what was done, in order.
 * Throws when the colours cannot be converted.
 */
export async function drawDisplay(
  pixels: Pixels,
  job: ShowJob & { paint?: Paint | undefined },
): Promise<Drawn> {
  const { picture, widthPx, heightPx, processing } = await pose(pixels, job);
  const size = { widthPx, heightPx };
  const painted = job.paint
    ? await paintOver(await rawSamples(picture, job.radiograph, size), job.paint)
    : picture;
  const display = job.radiograph
    ? keepNeededChunks(await painted.toColourspace('b-w').png({ compressionLevel: 6 }).toBuffer())
    : await painted.toColourspace('srgb').jpeg(JPEG).toBuffer();
  return { display, displayFormat: job.radiograph ? 'png' : 'jpg', widthPx, heightPx, processing };
}

export interface ShownSamples {
  data: Uint8Array;
  widthPx: number;
  heightPx: number;
  channels: 1 | 3;
}

/** The samples of the display picture before encoding: what a finder looks at. */
export async function showSamples(pixels: Pixels, job: ShowJob): Promise<ShownSamples> {
  const { picture, widthPx, heightPx } = await pose(pixels, job);
  return rawSamples(picture, job.radiograph, { widthPx, heightPx });
}

async function rawSamples(
  picture: Sharp,
  radiograph: boolean,
  size: { widthPx: number; heightPx: number },
): Promise<ShownSamples> {
  const converted = picture.toColourspace(radiograph ? 'b-w' : 'srgb');
  const { data, info } = await converted.raw().toBuffer({ resolveWithObject: true });
  return { data, ...size, channels: info.channels as 1 | 3 };
}

async function paintOver(samples: ShownSamples, paint: Paint): Promise<Sharp> {
  const { data, widthPx, heightPx, channels } = samples;
  paint(data, { widthPx, heightPx, channels });
  return sharp(data, { raw: { width: widthPx, height: heightPx, channels }, limitInputPixels: false });
}

/** Eight bits, upright and in direct view, not yet encoded. */
async function pose(pixels: Pixels, job: ShowJob) {
  const prepared = await toEightBits(pixels, job.radiograph);
  const upright = uprightPose(job.orientation);
  const wanted = job.flip ? flipped(upright) : upright;
  const picture = prepared.picture.rotate(wanted.turnDegrees).flop(wanted.mirror);
  const [widthPx, heightPx] = swapsSides(wanted)
    ? [pixels.heightPx, pixels.widthPx]
    : [pixels.widthPx, pixels.heightPx];
  const processing = [...prepared.processing];
  if (uprightPose(job.orientation).mirror)
    processing.push('turned upright and mirrored back, as the camera noted');
  else if (upright.turnDegrees !== 0) processing.push('turned upright');
  if (job.flip) processing.push('mirror view flipped once');
  return { picture, widthPx, heightPx, processing };
}

const GREY_RANGE_SET =
  'grey range set over the whole picture (0.1 to 99.9 % of its pixels, linear), 16 bits reduced to 8';

interface Prepared {
  picture: Sharp;
  processing: string[];
}

/** Profile, alpha and depth dealt with: what is left is 8-bit grey or colour that only has to be turned. */
async function toEightBits(pixels: Pixels, radiograph: boolean): Promise<Prepared> {
  const processing: string[] = [];
  const managed = pixels.profile !== null || pixels.colour === 'cmyk';
  if (managed) processing.push('colours converted to sRGB');
  if (pixels.hasAlpha) processing.push('transparent parts shown on white');
  if (pixels.bitsPerChannel === 16 && (radiograph || pixels.colour === 'grey')) {
    const { words, converted } = await greyWords(pixels);
    if (converted) processing.push('colour turned to grey');
    processing.push(GREY_RANGE_SET);
    return { picture: greyPicture(mapToEightBits(words, greyRangeOf(words)), pixels), processing };
  }
  if (pixels.bitsPerChannel === 16) processing.push('16 bits reduced to 8');
  if (radiograph && pixels.colour !== 'grey') {
    const neutral = plainRgb(pixels) ? neutralChannel(pixels.data) : null;
    if (neutral) return { picture: greyPicture(neutral, pixels), processing };
    processing.push('colour turned to grey');
  }
  return { picture: openPixels(pixels), processing };
}

const plainRgb = (pixels: Pixels): boolean =>
  pixels.colour === 'rgb' && pixels.profile === null && !pixels.hasAlpha;

/** One 16-bit grey channel, and whether colour had to be converted for it. */
async function greyWords(pixels: Pixels): Promise<{ words: Uint16Array; converted: boolean }> {
  if (pixels.colour === 'grey') return { words: wordsOf(pixels.data), converted: false };
  const neutral = plainRgb(pixels) ? neutralChannel(wordsOf(pixels.data)) : null;
  if (neutral) return { words: neutral, converted: false };
  const grey = openPixels(pixels).toColourspace('grey16').raw({ depth: 'ushort' });
  return { words: wordsOf(await grey.toBuffer()), converted: true };
}

const greyPicture = (samples: Uint8Array, { widthPx, heightPx }: Pixels): Sharp =>
  sharp(samples, { raw: { width: widthPx, height: heightPx, channels: 1 }, limitInputPixels: false });

/** Pixels handed to the colour engine; the pixel limit was held when they were decoded. */
function openPixels(pixels: Pixels): Sharp {
  const { widthPx: width, heightPx: height, channels } = pixels;
  const plain = pixels.profile === null && pixels.colour !== 'cmyk' && pixels.bitsPerChannel === 8;
  const picture = plain
    ? sharp(pixels.data, { raw: { width, height, channels: channels as 1 | 3 | 4 }, limitInputPixels: false })
    : sharp(wrapAsTiff(pixels), { limitInputPixels: false });
  return pixels.hasAlpha ? picture.flatten({ background: '#ffffff' }) : picture;
}
