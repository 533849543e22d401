/** The strip filter against plain reading and writing, and 50 JPEGs against exiftool. */
import { execFileSync } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writevSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exiftoolPath } from 'exiftool-vendored';
import sharp from 'sharp';
import { formatFor } from '../../src/formats/index.js';
import { type Row, ratio, row, rowAtLeast } from './row.js';

const PICTURES = 50;

export async function benchStrip(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'scopeleaf-bench-'));
  try {
    const sources = await drawPictures(folder);
    const [source] = sources as [string, ...string[]];
    const output = join(folder, 'output.jpg');
    const filter = await ratio(
      61,
      async () => stripFile(source, output),
      async () => writeFileSync(output, readFileSync(source)),
    );
    const [together, apart] = await againstExiftool(folder, sources);
    return [
      row('strip filter with read and write, JPEG of 12 MP, against read and write', filter, 1.2),
      rowAtLeast(`${PICTURES} JPEGs, against exiftool in one process`, together, 2),
      rowAtLeast(`${PICTURES} JPEGs, against exiftool in one process a file`, apart, 30),
    ];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** How many times longer exiftool takes. Its own copies are made before the clock runs. */
async function againstExiftool(
  folder: string,
  sources: string[],
): Promise<[together: number, apart: number]> {
  const exiftool = await exiftoolPath();
  const copies = sources.map((_, index) => join(folder, `copy-${index}.jpg`));
  const renew = (): void => {
    for (const [index, source] of sources.entries()) copyFileSync(source, copies[index] as string);
  };
  const ours = async (): Promise<void> => {
    for (const [index, source] of sources.entries()) stripFile(source, copies[index] as string);
  };
  const run = (files: string[]): void => {
    execFileSync(exiftool, ['-q', '-q', '-overwrite_original', '-all=', ...files]);
  };
  const together: number[] = [];
  const apart: number[] = [];
  for (let round = 0; round < 3; round += 1) {
    renew();
    together.push(await ratio(1, async () => run(copies), ours));
    renew();
    // One process a file costs the same for each: ten stand for all.
    const some = copies.slice(0, 10);
    apart.push(
      (PICTURES / some.length) *
        (await ratio(
          1,
          async () => {
            for (const copy of some) run([copy]);
          },
          ours,
        )),
    );
  }
  const middle = (values: number[]): number => [...values].sort((a, b) => a - b)[1] as number;
  return [middle(together), middle(apart)];
}

function stripFile(source: string, output: string): void {
  const bytes = readFileSync(source);
  const format = formatFor(bytes);
  const outcome = format && 'strip' in format ? format.strip(bytes) : null;
  if (outcome?.kind !== 'kept') throw new Error('the bench picture was not stripped');
  const file = openSync(output, 'w');
  writevSync(
    file,
    outcome.value.parts.map((part) => part.bytes),
  );
  closeSync(file);
}

/** Fifty files of one drawn picture with noise and EXIF, as large as a camera's. */
async function drawPictures(folder: string): Promise<string[]> {
  const [width, height] = [4000, 3000];
  const noise = await sharp({
    create: {
      width,
      height,
      channels: 3,
      background: '#806050',
      noise: { type: 'gaussian', mean: 128, sigma: 6 },
    },
  })
    .withExif({ IFD0: { Artist: 'Rowan Testcase', Make: 'Invented' } })
    .jpeg({ quality: 88 })
    .toBuffer();
  return Array.from({ length: PICTURES }, (_, index) => {
    const path = join(folder, `source-${index}.jpg`);
    writeFileSync(path, noise);
    return path;
  });
}
