/** The strip filter against plain reading and writing, and 50 JPEGs against exiftool. */
import { execFileSync } from 'node:child_process';
import {
  closeSync,
  fstatSync,
  fsyncSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  readSync,
  rmSync,
  writeFileSync,
  writevSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { exiftoolPath } from 'exiftool-vendored';
import sharp from 'sharp';
import { formatFor } from '../../src/formats/index.js';
import { median, type Row, row, rowAtLeast, time } from './row.js';

const PICTURES = 50;
/** Workers live long: what is measured is compiled code. */
const WARM_UP = 400;
const ROUNDS = 201;

export async function benchStrip(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'scopeleaf-bench-'));
  try {
    const sources = await drawPictures(folder);
    const output = join(folder, 'output.jpg');
    const filter = againstCopy(sources[0] as string, output, false);
    const filed = againstCopy(sources[0] as string, output, true);
    const [together, apart] = await againstExiftool(folder, sources);
    return [
      row('strip filter with read and write, JPEG of 12 MP, against read and write', filter, 1.2),
      row('the same, both sides with the fsync that filing a picture takes', filed, 1.2),
      rowAtLeast(`${PICTURES} JPEGs, against exiftool in one process`, together, 2),
      rowAtLeast(`${PICTURES} JPEGs, against exiftool in one process a file`, apart, 30),
    ];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/**
 * Median of many pairs, each side first in every second one. Both write a new file, since writing over one makes
 * some file systems start on the disk at once; both wait for the disk, or neither.
 */
function againstCopy(source: string, output: string, durable: boolean): number {
  const bytes = readFileSync(source);
  for (let round = 0; round < WARM_UP; round += 1) strippedParts(bytes);
  const clock = (work: () => void): number => {
    rmSync(output, { force: true });
    const start = performance.now();
    work();
    return performance.now() - start;
  };
  const ours = (): number => clock(() => stripFile(source, output, durable));
  const copy = (): number => clock(() => writeParts(output, [readKept(source)], durable));
  const ratios: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const first = round % 2 === 0 ? ours() : copy();
    const second = round % 2 === 0 ? copy() : ours();
    ratios.push(round % 2 === 0 ? first / second : second / first);
  }
  return median(ratios);
}

/** How many times longer exiftool takes. Both read the sources and write new files into an empty folder. */
async function againstExiftool(
  folder: string,
  sources: string[],
): Promise<[together: number, apart: number]> {
  const exiftool = await exiftoolPath();
  const outputs = join(folder, 'outputs');
  const fresh = async (work: () => void): Promise<number> => {
    rmSync(outputs, { recursive: true, force: true });
    mkdirSync(outputs);
    return time(async () => work());
  };
  const ours = (): void => {
    for (const source of sources) stripFile(source, join(outputs, basename(source)), false);
  };
  const peer = (files: string[]): void => {
    execFileSync(exiftool, ['-q', '-q', '-o', `${outputs}/`, '-all=', ...files]);
  };
  // One process a file costs the same for each: ten stand for all.
  const some = sources.slice(0, 10);
  const together: number[] = [];
  const apart: number[] = [];
  for (let round = 0; round < 5; round += 1) {
    together.push((await fresh(() => peer(sources))) / (await fresh(ours)));
    const each = await fresh(() => {
      for (const source of some) peer([source]);
    });
    apart.push(((PICTURES / some.length) * each) / (await fresh(ours)));
  }
  return [median(together), median(apart)];
}

function stripFile(source: string, output: string, durable: boolean): void {
  writeParts(output, strippedParts(readKept(source)), durable);
}

function writeParts(output: string, parts: Uint8Array[], durable: boolean): void {
  const file = openSync(output, 'w');
  writevSync(file, parts);
  if (durable) fsyncSync(file);
  closeSync(file);
}

/** Fresh memory for each file costs several times what reading and filtering do, on both sides; so one is kept. */
let memory = Buffer.allocUnsafeSlow(8 << 20);

function readKept(source: string): Buffer {
  const file = openSync(source, 'r');
  const { size } = fstatSync(file);
  if (memory.length < size) memory = Buffer.allocUnsafeSlow(size);
  const read = readSync(file, memory, 0, size, 0);
  closeSync(file);
  if (read !== size) throw new Error('the bench picture was not read whole');
  return memory.subarray(0, size);
}

function strippedParts(bytes: Uint8Array): Uint8Array[] {
  const format = formatFor(bytes);
  const outcome = format && 'strip' in format ? format.strip(bytes) : null;
  if (outcome instanceof Promise || outcome?.kind !== 'kept')
    throw new Error('the bench picture was not stripped');
  return outcome.value.parts.map((part) => part.bytes);
}

/** Fifty files of one drawn picture with noise and EXIF, 2.9 MB each, as large as a camera's. */
async function drawPictures(folder: string): Promise<string[]> {
  const [width, height] = [4000, 3000];
  const noise = await sharp({
    create: {
      width,
      height,
      channels: 3,
      background: '#806050',
      noise: { type: 'gaussian', mean: 128, sigma: 8 },
    },
  })
    .withExif({ IFD0: { Artist: 'Rowan Testcase', Make: 'Invented' } })
    .jpeg({ quality: 90 })
    .toBuffer();
  return Array.from({ length: PICTURES }, (_, index) => {
    const path = join(folder, `source-${index}.jpg`);
    // Waits for the disk, so that it is idle when the clock runs.
    writeFileSync(path, noise, { flush: true });
    return path;
  });
}
