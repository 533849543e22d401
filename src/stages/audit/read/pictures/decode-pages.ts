import sharp, { type Sharp } from 'sharp';
import { held, kept, type Outcome } from '../../../../core/outcome.js';
import type { FinderPicture } from '../../../../finders/finder.js';
import type { Format, HeldFormat, StoredPixels } from '../../../../formats/format.js';

/** More pages than this are not opened. */
const MOST_PAGES = 200;

const damaged = (format: string) =>
  held({ code: 'damaged', format, what: 'a part of the picture is missing or broken' });

/** Every page of a picture file as 8-bit samples, upright. What cannot be opened comes as held. */
export async function* decodePages(
  bytes: Uint8Array,
  format: Format | HeldFormat,
  pixelLimit: number,
): AsyncGenerator<Outcome<FinderPicture>> {
  if ('decode' in format && format.decode !== undefined) {
    yield* decodeByFormat(bytes, format, pixelLimit);
    return;
  }
  if (!('strip' in format)) {
    yield held(format.name === 'DICOMDIR' ? { code: 'disc-index' } : { code: 'unknown-format' });
    return;
  }
  let pages: number;
  try {
    const said = await sharp(bytes, { limitInputPixels: false }).metadata();
    if (said.width * said.height > pixelLimit) {
      yield tooMany(said.width * said.height, pixelLimit);
      return;
    }
    pages = said.pages ?? 1;
  } catch {
    yield damaged(format.name);
    return;
  }
  for (let page = 0; page < Math.min(pages, MOST_PAGES); page += 1) {
    yield* decodeCommon(bytes, format.name, pixelLimit, page);
  }
  if (pages > MOST_PAGES) yield held({ code: 'several-frames', frames: pages });
}

const tooMany = (pixels: number, limit: number) =>
  held({
    code: 'too-many-pixels',
    megapixels: Math.ceil(pixels / 1e6),
    limitMegapixels: Math.ceil(limit / 1e6),
  });

/** A text may be drawn in what is transparent, so a picture with alpha is searched with and without it. */
async function* decodeCommon(
  bytes: Uint8Array,
  name: string,
  pixelLimit: number,
  page: number,
): AsyncGenerator<Outcome<FinderPicture>> {
  try {
    const input = { failOn: 'truncated' as const, limitInputPixels: pixelLimit, page };
    const { hasAlpha } = await sharp(bytes, input).metadata();
    yield kept(await samplesOf(sharp(bytes, input).autoOrient().removeAlpha()));
    if (hasAlpha)
      yield kept(await samplesOf(sharp(bytes, input).autoOrient().flatten({ background: '#808080' })));
  } catch {
    yield damaged(name);
  }
}

async function samplesOf(picture: Sharp): Promise<FinderPicture> {
  const { data, info } = await picture
    .toColourspace('srgb')
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  return asPicture(data, info.width, info.height, info.channels);
}

/** One or three channels of samples; three that are equal stay three, which the finder reads as well. */
export function asPicture(
  data: Uint8Array,
  widthPx: number,
  heightPx: number,
  channels: number,
): FinderPicture {
  if (channels === 1 || channels === 3) return { data, widthPx, heightPx, channels };
  const kept = channels === 4 ? 3 : 1;
  const out = new Uint8Array(widthPx * heightPx * kept);
  for (let pixel = 0; pixel < widthPx * heightPx; pixel += 1) {
    for (let channel = 0; channel < kept; channel += 1)
      out[pixel * kept + channel] = data[pixel * channels + channel]!;
  }
  return { data: out, widthPx, heightPx, channels: kept };
}

/** DICOM frame by frame, HEIC: the formats bring their own decoders; deep samples are stretched to 8 bits. */
async function* decodeByFormat(
  bytes: Uint8Array,
  format: Format,
  pixelLimit: number,
): AsyncGenerator<Outcome<FinderPicture>> {
  for (let frame = 1; frame <= MOST_PAGES; frame += 1) {
    const decoded = await format.decode!(bytes, { pixelLimit, frame });
    if (decoded.kind !== 'kept') {
      if (frame === 1 || decoded.reason.code !== 'frame-absent') yield decoded;
      return;
    }
    yield kept(asEightBits(decoded.value));
    // Only an object of frames knows a second one.
    if (format.name !== 'DICOM') return;
  }
  yield held({ code: 'several-frames', frames: MOST_PAGES + 1 });
}

function asEightBits({ data, widthPx, heightPx, channels }: StoredPixels): FinderPicture {
  if (data instanceof Uint8Array) return { data, widthPx, heightPx, channels };
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const sample of data) {
    if (sample < low) low = sample;
    if (sample > high) high = sample;
  }
  const scale = high > low ? 255 / (high - low) : 0;
  return { data: Uint8Array.from(data, (sample) => (sample - low) * scale), widthPx, heightPx, channels };
}
