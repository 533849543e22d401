/**
 * The radiographs of the sample visits. Comes in: nothing (all is decided here, every number seeded). Leaves: files
 * ready to be stored, without any metadata, each with the truth of what it shows in pixels.
 */
import sharp from 'sharp';
import type { Raster } from '../raster.js';
import { lowerMolarFilm, SHOTS_A } from './case-lower-molar.js';
import { SHOTS_B, upperPremolarFilm } from './case-upper-premolar.js';
import { type DrawnFilm, drawFilm } from './film.js';
import type { Film } from './film-scene.js';
import type { FilmTruth } from './film-truth.js';

export type FilmFormat = 'png' | 'jpg' | 'tiff16';

export interface SampleFilm {
  /** Plain name with its extension; the visit may give it a camera's name. */
  name: string;
  bytes: Uint8Array;
  truth: FilmTruth;
}

interface Entry {
  name: string;
  format: FilmFormat;
  mmPerPx: number;
  film: (mmPerPx: number) => Film;
}

const lower = (shot: string) => (mmPerPx: number) => lowerMolarFilm(SHOTS_A[shot]!, mmPerPx);
const upper = (shot: string) => (mmPerPx: number) => upperPremolarFilm(SHOTS_B[shot]!, mmPerPx);

const FILMS: readonly Entry[] = [
  { name: '46-before.png', format: 'png', mmPerPx: 0.03, film: lower('before') },
  { name: '46-lengths.jpg', format: 'jpg', mmPerPx: 0.03, film: lower('lengths') },
  { name: '46-cones.jpg', format: 'jpg', mmPerPx: 0.03, film: lower('cones') },
  { name: '46-filled.tif', format: 'tiff16', mmPerPx: 0.04, film: lower('filled') },
  { name: '46-filled-mesial.jpg', format: 'jpg', mmPerPx: 0.03, film: lower('filledMesial') },
  { name: '24-before.jpg', format: 'jpg', mmPerPx: 0.03, film: upper('before') },
  { name: '24-lengths.jpg', format: 'jpg', mmPerPx: 0.03, film: upper('lengths') },
  { name: '24-filled.png', format: 'png', mmPerPx: 0.036, film: upper('filled') },
];

export const filmNames: readonly string[] = FILMS.map(({ name }) => name);

/** 8-bit grey as PNG or JPEG, or 16-bit grey (12 bits used, as sensors do) as TIFF. */
async function encode(grey: Raster, format: FilmFormat): Promise<Uint8Array> {
  const raw = { width: grey.widthPx, height: grey.heightPx, channels: 1 as const };
  if (format === 'tiff16') {
    const samples = Uint16Array.from(grey.data, (value) => Math.round(value * 16) * 16);
    const image = sharp(samples, { raw }).toColourspace('grey16');
    return image.tiff({ compression: 'deflate', predictor: 'horizontal' }).toBuffer();
  }
  const image = sharp(Uint8Array.from(grey.data, Math.round), { raw }).toColourspace('b-w');
  return format === 'png'
    ? image.png({ compressionLevel: 9 }).toBuffer()
    : image.jpeg({ quality: 90 }).toBuffer();
}

/** One film before encoding. A larger `mmPerPx` gives a smaller picture of the same field, sooner. */
export function drawOneFilm(name: string, mmPerPx?: number): DrawnFilm {
  const entry = FILMS.find((film) => film.name === name);
  if (entry === undefined) throw new Error(`there is no film called ${name}`);
  const scale = mmPerPx ?? entry.mmPerPx;
  return drawFilm(entry.film(scale), Math.max(1, Math.round((0.06 / scale) * 10) / 10));
}

/** Every film of the samples, or those whose name begins with `only`. Same bytes on every run. */
export async function drawFilms(only = ''): Promise<SampleFilm[]> {
  const films: SampleFilm[] = [];
  for (const entry of FILMS.filter(({ name }) => name.startsWith(only))) {
    const { grey, truth } = drawOneFilm(entry.name);
    films.push({ name: entry.name, bytes: await encode(grey, entry.format), truth });
  }
  return films;
}
