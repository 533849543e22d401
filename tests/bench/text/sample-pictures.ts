/** The drawn sample pictures of the project, as grounds to print on: real enough, and nobody's. */
import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';

/** 8-bit samples, channels interleaved. */
export interface Samples {
  data: Uint8Array;
  widthPx: number;
  heightPx: number;
  channels: 1 | 3;
}

/** Compiled and uncompiled runs lie at different depths under the same top folder. */
function visitsFolder(): string {
  for (let at = dirname(fileURLToPath(import.meta.url)); at !== dirname(at); at = dirname(at)) {
    const folder = join(at, 'sample-images', 'visits');
    if (existsSync(folder)) return folder;
  }
  throw new Error('the sample visits are missing');
}

async function decoded(path: string, channels: 1 | 3): Promise<Samples> {
  const image = sharp(path)
    .removeAlpha()
    .toColourspace(channels === 1 ? 'b-w' : 'srgb');
  const { data, info } = await image.raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
  return { data, widthPx: info.width, heightPx: info.height, channels };
}

/** Bears a printed name and date, as the demo wants it; nothing may be read that this bench did not print. */
const PRINTED = /FILM0021\./;

const known = new Map<string, Promise<Samples[]>>();

function load(kind: 'films' | 'stills'): Promise<Samples[]> {
  const root = visitsFolder();
  const paths = readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => /\.(jpe?g|png|tiff?)$/i.test(path) && !PRINTED.test(path))
    .filter((path) => /(^|[\\/])films[\\/]/.test(path) === (kind === 'films'))
    .sort();
  const channels = kind === 'films' ? 1 : 3;
  return Promise.all(
    paths.map(async (path) => {
      const picture = await decoded(join(root, path), channels);
      return kind === 'films' ? crownsUp(picture) : picture;
    }),
  );
}

/** Films of both jaws, all turned so that the crowns, with the black between them, are on top. */
function crownsUp(film: Samples): Samples {
  const black = (from: number, to: number): number =>
    film.data.subarray(from, to).filter((v) => v < 40).length;
  const third = Math.floor(film.heightPx / 3) * film.widthPx;
  const { length } = film.data;
  if (black(0, third) >= black(length - third, length)) return film;
  const data = new Uint8Array(length);
  for (let y = 0; y < film.heightPx; y++) {
    const from = (film.heightPx - 1 - y) * film.widthPx;
    data.set(film.data.subarray(from, from + film.widthPx), y * film.widthPx);
  }
  return { ...film, data };
}

export function samplePictures(kind: 'films' | 'stills'): Promise<Samples[]> {
  const pictures = known.get(kind) ?? load(kind);
  known.set(kind, pictures);
  return pictures;
}

interface Shaping {
  /** Part of the source that is shown, as shares of its width and height. */
  part: [left: number, top: number, width: number, height: number];
  flip: boolean;
  flop: boolean;
  /** Multiplies, then adds: exposure. */
  gain: number;
  lift: number;
  blurPx: number;
}

export async function shaped(
  source: Samples,
  widthPx: number,
  heightPx: number,
  shaping: Shaping,
): Promise<Samples> {
  const [left, top, width, height] = shaping.part;
  const raw = { width: source.widthPx, height: source.heightPx, channels: source.channels };
  let image = sharp(source.data, { raw })
    .extract({
      left: Math.floor(left * source.widthPx),
      top: Math.floor(top * source.heightPx),
      width: Math.floor(width * source.widthPx),
      height: Math.floor(height * source.heightPx),
    })
    .resize(widthPx, heightPx, { fit: 'fill', kernel: 'cubic' })
    .flip(shaping.flip)
    .flop(shaping.flop)
    .linear(shaping.gain, shaping.lift);
  if (shaping.blurPx > 0.3) image = image.blur(shaping.blurPx);
  const data = await image
    .toColourspace(source.channels === 1 ? 'b-w' : 'srgb')
    .raw({ depth: 'uchar' })
    .toBuffer();
  return { data: new Uint8Array(data), widthPx, heightPx, channels: source.channels };
}
