import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';

/** Sizes of a bench visit. */
export interface VisitSize {
  stills: number;
  films: number;
}

/** 12 megapixels, as a microscope's camera gives them. */
const STILL = { width: 4000, height: 3000 };
const FILM = { width: 1800, height: 1350 };

/**
 * Writes a visit folder of drawn noise on a slow gradient, about as hard to compress as a photograph. Seeded, and
 * different for each picture, since equal bytes would be taken in once only.
 */
export async function writeLargeVisit(folder: string, size: VisitSize, seed = 1): Promise<void> {
  await mkdir(folder, { recursive: true });
  const lines = [
    'patient: {chart: B-1, names: [Bench Testcase]}',
    'visit: {date: 2026-02-11, state: finished}',
  ];
  lines.push('treatment: {kind: root-canal-treatment}', 'tooth: {fdi: 46}', 'images:');
  for (let at = 0; at < size.stills; at += 1) {
    const name = `IMG_${String(1000 + at)}.JPG`;
    await writeFile(join(folder, name), await still(seed * 1000 + at));
    lines.push(`  - {file: ${name}, stage: orifices, view: microscope, caption: Still ${at + 1}}`);
  }
  for (let at = 0; at < size.films; at += 1) {
    const name = `film${at + 1}.png`;
    await writeFile(join(folder, name), await film(seed * 1000 + at));
    const stage = at === 0 ? 'pre-op' : 'post-op';
    lines.push(`  - {file: ${name}, stage: ${stage}, view: periapical, caption: Film ${at + 1}}`);
  }
  await writeFile(join(folder, 'visit.yaml'), `${lines.join('\n')}\n`);
}

const still = (seed: number): Promise<Buffer> =>
  textured(STILL, 3, seed)
    .jpeg({ quality: 92, chromaSubsampling: '4:2:0' })
    .withExif({ IFD0: { Make: 'Bench' } })
    .toBuffer();

const film = (seed: number): Promise<Buffer> =>
  textured(FILM, 1, seed).png({ compressionLevel: 6 }).toBuffer();

/** Sums of sines with a little noise from a 32-bit linear congruential generator (Numerical Recipes' constants). */
function textured({ width, height }: { width: number; height: number }, channels: 1 | 3, seed: number) {
  const pixels = Buffer.alloc(width * height * channels);
  let state = seed >>> 0;
  for (let y = 0, at = 0; y < height; y += 1) {
    const row = 40 * Math.sin(y / (37 + (seed % 11))) + 20 * Math.sin(y / 7);
    for (let x = 0; x < width; x += 1) {
      const base = 128 + row + 40 * Math.sin((x + seed * 31) / 53);
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const noise = (state >>> 28) - 8;
      for (let channel = 0; channel < channels; channel += 1, at += 1)
        pixels[at] = base + noise + channel * 12;
    }
  }
  return sharp(pixels, { raw: { width, height, channels } });
}
