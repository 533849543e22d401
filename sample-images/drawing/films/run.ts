/** Draws the films into a folder, to be looked at: node dist/sample-images/drawing/films/run.js FOLDER [NAME] */
import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { drawFilms } from './index.js';

const [folder = 'films', only] = process.argv.slice(2);
await mkdir(folder, { recursive: true });
for (const film of await drawFilms(only)) {
  await writeFile(path.join(folder, film.name), film.bytes);
  await writeFile(path.join(folder, `${film.name}.json`), JSON.stringify(film.truth, null, 1));
  process.stdout.write(`${film.name} ${film.bytes.length}\n`);
  process.stdout.write(
    `${film.truth.regions.map((r) => `${r.name} ${r.mean.toFixed(0)}±${r.sd.toFixed(0)}`).join(', ')}\n`,
  );
  process.stdout.write(
    `${film.truth.canals.map((c) => `${c.name} ${c.recordedMm} ${c.lengthMm.toFixed(2)} ${c.drawnMm.toFixed(2)}`).join(', ')}\n`,
  );
}
