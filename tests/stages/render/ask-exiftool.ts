import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ExifTool } from 'exiftool-vendored';
import type { TestContext } from 'vitest';

/** exiftool comes with the packages, but needs perl, which this machine may lack. */
const perlIsMissing = process.platform !== 'win32' && spawnSync('perl', ['-v']).status !== 0;

/** Skips with the reason on a user's machine; where every check must run, goes on and fails. */
export function needsExiftool(context: TestContext): void {
  if (perlIsMissing && !process.env['CI']) context.skip('exiftool needs perl, which is not installed');
}

/** Runs `work` with exiftool and a folder of its own, and cleans up after it. */
export async function withExiftool<T>(work: (exiftool: ExifTool, folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'render-'));
  const exiftool = new ExifTool({ maxProcs: 1 });
  try {
    return await work(exiftool, folder);
  } finally {
    await exiftool.end();
    await rm(folder, { recursive: true });
  }
}

/** Every tag exiftool finds in these bytes, as "Group:Tag", without what it says about the file on disk. */
export async function tagsIn(exiftool: ExifTool, folder: string, bytes: Uint8Array): Promise<string[]> {
  const path = join(folder, 'look');
  await writeFile(path, bytes);
  const tags = await exiftool.readRaw(path, { readArgs: ['-G1', '-a', '-u', '-U', '-fast0'] });
  return Object.keys(tags).filter(
    (tag) => !/^(SourceFile|errors|warnings|(System|ExifTool|File|Composite):.*)$/.test(tag),
  );
}

/** The same JPEG with an orientation tag written by exiftool. */
export async function withOrientation(
  exiftool: ExifTool,
  folder: string,
  jpeg: Uint8Array,
  orientation: number,
): Promise<Buffer> {
  const path = join(folder, `orientation-${orientation}.jpg`);
  await writeFile(path, jpeg);
  await exiftool.write(path, {}, { writeArgs: [`-Orientation#=${orientation}`, '-overwrite_original'] });
  return readFile(path);
}
