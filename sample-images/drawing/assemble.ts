/**
 * Draws every sample picture, plants metadata, and writes the visit folders: npx tsc -p sample-images, then
 * node dist/sample-images/drawing/assemble.js [PART OF A FILE NAME]. With an argument only matching files are drawn.
 */
import { copyFile, mkdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { ExifTool } from 'exiftool-vendored';
import sharp, { type Sharp } from 'sharp';
import { burnText } from './burn-text.js';
import { drawFilms } from './films/index.js';
import { type Planted, plantJpeg, plantPng, plantTiff } from './plant.js';
import { drawStill } from './stills/scene.js';
import { type FilmFile, type SampleVisit, type StillFile, VISITS } from './visits.js';

const SAMPLES = fileURLToPath(new URL('../../../sample-images/', import.meta.url));

const SCOPE = { maker: 'Sampleworks', model: 'Scope Camera 1', owner: 'Imke Sandvoort' };
const SENSOR = { maker: 'Sampleworks', model: 'Film Sensor 2', owner: 'Sandvoort Endodontics, room 2' };

const plantedIn = (visit: SampleVisit, one: StillFile | FilmFile): Planted => ({
  patient: visit.patient,
  takenAt: `${visit.day} ${one.at}`,
  device: {
    ...(one.kind === 'still' ? SCOPE : SENSOR),
    serial: one.kind === 'still' ? 'SW-004711' : 'FS-20988',
  },
  dentist: 'Dr Imke Sandvoort',
  orientation: one.kind === 'still' ? one.orientation : 1,
  caption: `${visit.patient.name}, ${one.kind === 'still' ? 'scope' : 'sensor'} ${one.at}`,
});

const drawJpeg = async (one: StillFile): Promise<{ jpeg: Buffer; small: Buffer }> => {
  const picture = drawStill(one.tooth, one.shot, one.widthPx, (one.widthPx * 3) / 4);
  const raw = { width: picture.widthPx, height: picture.heightPx, channels: 3 as const };
  // orientation 6 means "turn right to see": the camera hung on its side and stored the picture turned left
  const stored = (): Sharp => sharp(picture.rgb, { raw }).rotate(one.orientation === 6 ? 270 : 0);
  const full = stored().jpeg({ quality: 88, chromaSubsampling: '4:2:0' });
  const jpeg = await (one.profile === 'p3' ? full.withIccProfile('p3') : full).toBuffer();
  return { jpeg, small: await stored().resize({ width: 160 }).jpeg({ quality: 70 }).toBuffer() };
};

const makeStill = async (tool: ExifTool, visit: SampleVisit, one: StillFile): Promise<Uint8Array> => {
  const { jpeg, small } = await drawJpeg(one);
  return plantJpeg(tool, jpeg, plantedIn(visit, one), small);
};

const makeFilm = async (tool: ExifTool, visit: SampleVisit, one: FilmFile): Promise<Uint8Array> => {
  const [clean] = await drawFilms(one.film);
  if (clean === undefined) throw new Error(`no film is called ${one.film}`);
  const drawn = one.burned ? { ...clean, bytes: await burnText(clean.bytes, inCorner(one.burned)) } : clean;
  const planted = plantedIn(visit, one);
  if (one.film.endsWith('.png')) return plantPng(tool, drawn.bytes, planted);
  if (one.film.endsWith('.tif')) return plantTiff(tool, drawn.bytes, planted);
  const small = await sharp(drawn.bytes).resize({ width: 160 }).jpeg({ quality: 70 }).toBuffer();
  return plantJpeg(tool, drawn.bytes, planted, small);
};

const inCorner = (lines: readonly string[]) => ({ lines, xPx: 24, yPx: 40, sizePx: 26 });

const assembleVisit = async (tool: ExifTool, visit: SampleVisit, only: string): Promise<void> => {
  const folder = path.join(SAMPLES, 'visits', visit.folder);
  await mkdir(folder, { recursive: true });
  await copyFile(path.join(SAMPLES, 'drawing', 'sidecars', visit.sidecar), path.join(folder, 'visit.yaml'));
  for (const one of visit.files) {
    const target = path.join(folder, one.file);
    if (one.kind === 'copy') {
      const original = await readFile(path.join(folder, one.of)).catch(() => null);
      if (original !== null) await writeFile(target, original);
      continue;
    }
    if (!`${visit.folder}/${one.file}`.includes(only)) continue;
    const bytes = one.kind === 'still' ? await makeStill(tool, visit, one) : await makeFilm(tool, visit, one);
    await mkdir(path.dirname(target), { recursive: true });
    await writeFile(target, bytes);
    process.stdout.write(`${visit.folder}/${one.file} ${bytes.length}\n`);
  }
};

const tool = new ExifTool({ taskTimeoutMillis: 60_000 });
try {
  for (const visit of VISITS) await assembleVisit(tool, visit, process.argv[2] ?? '');
} finally {
  await tool.end();
}
