import type { HeifChannel, Libheif } from 'libheif-js/libheif-wasm/libheif-bundle.js';
import { held, kept, type Outcome } from '../../core/outcome.js';
import type { StoredPixels } from '../format.js';
import { outcomeOf } from '../refusal.js';
import { mainFile } from './main-file.js';
import { type MainPicture, readMainPicture } from './main-picture.js';
import { readHeif } from './read-heif.js';

export interface DecodedPicture {
  pixels: StoredPixels;
  picture: MainPicture;
}

/** libheif with its HEVC decoder, compiled to wasm; kept for the next picture unless it broke over one. */
let engine: Libheif | null = null;

async function openEngine(): Promise<Libheif> {
  const { default: start } = await import('libheif-js/libheif-wasm/libheif-bundle.js');
  const silent = (): void => undefined;
  engine ??= start({ print: silent, printErr: silent });
  return engine;
}

/**
 * The main picture as 8-bit RGB, upright: libheif applies the file's own crop, rotation and mirror. Sizes are checked
 * before, the length of what comes out after.
 */
export async function decodeHeic(bytes: Uint8Array, pixelLimit: number): Promise<Outcome<DecodedPicture>> {
  const read = outcomeOf('HEIC', () => {
    const heif = readHeif(bytes);
    const picture = readMainPicture(heif, pixelLimit);
    return { picture, file: mainFile(heif, picture.items) };
  });
  if (read.kind !== 'kept') return read;
  const { picture, file } = read.value;
  try {
    const channel = await decodeMain(await openEngine(), file, pixelLimit);
    const fits = channel?.width === picture.widthPx && channel.height === picture.heightPx;
    if (!channel) return broken('a part of the picture is missing or broken');
    if (!fits || channel.data.length < channel.stride * channel.height)
      return broken('its sizes contradict each other');
    const { widthPx, heightPx } = picture;
    return kept({
      pixels: { data: withoutPadding(channel), widthPx, heightPx, channels: 3, bitsPerChannel: 8 },
      picture,
    });
  } catch {
    // A decoder that ran out of its memory or into a trap is not used again.
    engine = null;
    return broken('a part of the picture is missing or broken');
  }
}

const broken = (what: string): Outcome<never> => held({ code: 'damaged', format: 'HEIC', what });

/** Null when libheif complains about anything. The channel's data is a copy, since the engine's memory is used again. */
async function decodeMain(heif: Libheif, bytes: Uint8Array, pixelLimit: number): Promise<HeifChannel | null> {
  const context = heif.heif_context_alloc();
  try {
    limitPixels(heif, context.$$.ptr, pixelLimit);
    if (heif.heif_context_read_from_memory(context, bytes).code !== heif.heif_error_code.heif_error_Ok)
      return null;
    const handle = heif.heif_js_context_get_primary_image_handle(context);
    if (!handle || handle.code) return null;
    const decoded = await heif.heif_js_decode_image2(
      handle,
      heif.heif_colorspace.heif_colorspace_RGB,
      heif.heif_chroma.heif_chroma_interleaved_RGB,
    );
    heif.heif_image_handle_release(handle);
    if (decoded.code) return null;
    const warnings = heif._heif_image_get_decoding_warnings(decoded.image.$$.ptr, 0, 0, 0);
    const [channel] = decoded.channels;
    const copied = channel ? { ...channel, data: Uint8Array.from(channel.data) } : null;
    heif.heif_image_release(decoded.image);
    return warnings > 0 ? null : copied;
  } finally {
    heif.heif_context_free(context);
  }
}

/** `max_image_size_pixels` of heif_security_limits (libheif/heif_security.h): 64 bits behind the version byte and its padding. */
function limitPixels(heif: Libheif, context: number, pixelLimit: number): void {
  const limits = heif._heif_context_get_security_limits(context);
  const { buffer, byteOffset } = heif.HEAPU8;
  new DataView(buffer, byteOffset).setBigUint64(limits + 8, BigInt(pixelLimit), true);
}

function withoutPadding({ data, width, height, stride }: HeifChannel): Uint8Array {
  const rowBytes = 3 * width;
  if (stride === rowBytes) return data.subarray(0, rowBytes * height);
  const tight = new Uint8Array(rowBytes * height);
  for (let row = 0; row < height; row++)
    tight.set(data.subarray(row * stride, row * stride + rowBytes), row * rowBytes);
  return tight;
}
