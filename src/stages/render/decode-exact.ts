import sharp, { type Metadata, type OutputInfo, type SharpOptions } from 'sharp';
import type { FormatName } from '../../core/format-name.js';
import { held, kept, type Outcome } from '../../core/outcome.js';
import type { StoredPixels } from '../../formats/format.js';
import { FORMATS } from '../../formats/index.js';
import { isHarmless, reasonOf } from './decode-trouble.js';
import type { Pixels } from './pixels.js';

/** More pixels than this are refused before decoding: a small file can unpack to gigabytes. */
export const PIXEL_LIMIT = 100_000_000;

/** What sharp calls each format that may be decoded; everything else is refused, whatever sharp could do with it. */
const LOADER: Partial<Record<FormatName, string>> = { JPEG: 'jpeg', PNG: 'png', TIFF: 'tiff', WebP: 'webp' };

export interface Decoded {
  pixels: Pixels;
  /** The decoder complained, but only of things known to cost no pixel. */
  warned: boolean;
}

/**
 * Every pixel of the first page at full depth, exactly as stored. Held: `damaged` when anything is missing or
 * broken, `several-frames` or `frame-absent` for DICOM objects, `too-many-pixels`, `unusual` for sample kinds nothing here can compare (floating point, Lab ...).
 */
export async function decodeExact(
  bytes: Uint8Array,
  format: FormatName,
  pixelLimit: number,
  frame?: number | undefined,
): Promise<Outcome<Decoded>> {
  const own = FORMATS.find(({ name }) => name === format)?.decode;
  if (own) {
    const decoded = await own(bytes, { pixelLimit, ...(frame === undefined ? {} : { frame }) });
    return decoded.kind === 'kept' ? kept({ pixels: asPixels(decoded.value), warned: false }) : decoded;
  }
  const described = await describe(bytes, format, pixelLimit);
  if (described.kind !== 'kept') return described;
  const metadata = described.value;
  const sampling = samplingOf(metadata);
  if (!sampling) return held({ code: 'unusual', format, what: 'a kind of pixel that cannot be checked' });
  const strict = await decode(bytes, 'warning', sampling, pixelLimit);
  const forgiving = strict instanceof Error && isHarmless(strict);
  const read = forgiving ? await decode(bytes, 'error', sampling, pixelLimit) : strict;
  if (read instanceof Error) return held(reasonOf(read, format));
  const pixels: Pixels = {
    data: read.data,
    widthPx: read.info.width,
    heightPx: read.info.height,
    channels: read.info.channels,
    bitsPerChannel: sampling.bitsPerChannel,
    colour: sampling.colour,
    hasAlpha: metadata.hasAlpha === true,
    profile: metadata.icc ?? null,
  };
  return kept({ pixels, warned: forgiving });
}

/** What a format's own decoder gives, over the same memory. */
function asPixels({ data, channels, ...shape }: StoredPixels): Pixels {
  return {
    ...shape,
    channels,
    data: Buffer.from(data.buffer, data.byteOffset, data.byteLength),
    signed: data instanceof Int16Array,
    colour: channels === 1 ? 'grey' : 'rgb',
    hasAlpha: false,
    profile: null,
  };
}

/** The header, or why the file must not be decoded. */
async function describe(
  bytes: Uint8Array,
  format: FormatName,
  pixelLimit: number,
): Promise<Outcome<Metadata>> {
  try {
    // No limit here: only the header is read, and the true count is wanted for the message.
    const metadata = await sharp(bytes, { limitInputPixels: false }).metadata();
    if (metadata.format !== LOADER[format])
      return held({ code: 'damaged', format, what: 'it cannot be opened' });
    const pixelCount = metadata.width * metadata.height;
    if (pixelCount <= pixelLimit) return kept(metadata);
    const mega = (count: number): number => Math.ceil(count / 1e6);
    return held({ code: 'too-many-pixels', megapixels: mega(pixelCount), limitMegapixels: mega(pixelLimit) });
  } catch (error) {
    return held(reasonOf(error as Error, format));
  }
}

interface Sampling {
  colour: Pixels['colour'];
  bitsPerChannel: 8 | 16;
  /** The libvips space in which the stored numbers come out unchanged. */
  space: string;
}

function samplingOf({ depth, channels, space, hasAlpha }: Metadata): Sampling | null {
  const bitsPerChannel = depth === 'uchar' ? 8 : depth === 'ushort' ? 16 : null;
  if (bitsPerChannel === null) return null;
  if (space === 'cmyk') return { colour: 'cmyk', bitsPerChannel, space: 'cmyk' };
  if (!['srgb', 'rgb', 'rgb16', 'b-w', 'grey16'].includes(space)) return null;
  // Grey with alpha is read as RGB with alpha: sharp drops the alpha of grey pictures.
  if (channels === 1 && !hasAlpha) {
    return { colour: 'grey', bitsPerChannel, space: bitsPerChannel === 16 ? 'grey16' : 'b-w' };
  }
  return { colour: 'rgb', bitsPerChannel, space: bitsPerChannel === 16 ? 'rgb16' : 'srgb' };
}

type Raw = { data: Buffer; info: OutputInfo };

async function decode(
  bytes: Uint8Array,
  failOn: 'warning' | 'error',
  { space, bitsPerChannel }: Sampling,
  pixelLimit: number,
): Promise<Raw | Error> {
  const options: SharpOptions = { failOn, limitInputPixels: pixelLimit, pages: 1, ignoreIcc: true };
  try {
    return await sharp(bytes, options)
      .pipelineColourspace(space)
      .toColourspace(space)
      .raw({ depth: bitsPerChannel === 16 ? 'ushort' : 'uchar' })
      .toBuffer({ resolveWithObject: true });
  } catch (error) {
    return error as Error;
  }
}
