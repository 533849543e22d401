/**
 * Draws the README's pictures of the sample sheet: node dist/sample-images/drawing/readme.js SHEET.pdf
 * SHEET.pdf is the lower molar's sheet of a demo run; needs poppler's pdftoppm.
 */
import { execFileSync } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';

const WIDTH_PX = 900;
const PAGES = [1, 2];
const FOLDER = fileURLToPath(new URL('../../../sample-images/readme/', import.meta.url));

const sheet = process.argv[2];
if (sheet === undefined) throw new Error('Name the PDF of a sheet.');
await mkdir(FOLDER, { recursive: true });
for (const page of PAGES) {
  // twice the size, then halved: thin letters keep their weight
  const drawn = execFileSync(
    'pdftoppm',
    [
      '-png',
      '-singlefile',
      '-f',
      String(page),
      '-scale-to-x',
      String(2 * WIDTH_PX),
      '-scale-to-y',
      '-1',
      sheet,
    ],
    { maxBuffer: 64 * 1024 * 1024 },
  );
  const small = await sharp(drawn)
    .resize({ width: WIDTH_PX })
    .png({ palette: true, quality: 80, dither: 0.5, effort: 10, compressionLevel: 9 })
    .toBuffer();
  await writeFile(new URL(`sheet-page-${page}.png`, `file://${FOLDER}`), small);
  process.stdout.write(`sheet-page-${page}.png ${small.length}\n`);
}
