import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import sharp from 'sharp';
import { afterAll } from 'vitest';
import { intakeVisits } from '../../src/app/intake/several.js';
import type { Ports } from '../../src/app/ports.js';
import type { VisitReport } from '../../src/app/report.js';
import { openPorts } from '../../src/app/session.js';
import { kept } from '../../src/core/outcome.js';
import { initPractice, openPractice, type Practice } from '../../src/practice/index.js';

const made: string[] = [];
const opened: { close(): Promise<void> }[] = [];

afterAll(async () => {
  await Promise.all(opened.map((ports) => ports.close()));
  await Promise.all(made.map((folder) => rm(folder, { recursive: true, force: true })));
});

/**
 * The real world, but for waiting: the 300 ms between two looks pass at once. Unless `searches`, the finders see nothing
 * in any picture: loading their models takes longer than most tests, and what they see has tests of its own.
 */
export function testPorts({ searches = false } = {}): Ports {
  const ports = openPorts(() => undefined, 2);
  opened.push(ports);
  const workers = searches ? ports.workers : { ...ports.workers, search: seeNothing };
  return { ...ports, workers, sleep: async () => undefined };
}

const seeNothing: Ports['workers']['search'] = async ({ facts }) => {
  const { widthPx, heightPx, orientation } = facts;
  const size = orientation > 4 ? { widthPx: heightPx, heightPx: widthPx } : { widthPx, heightPx };
  return kept({ texts: [], faces: [], ...size });
};

/** A fresh folder that is removed when the test file ends. */
export async function freshFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'scopeleaf-test-'));
  made.push(folder);
  return folder;
}

export async function freshPractice(): Promise<Practice> {
  const root = join(await freshFolder(), 'practice');
  const init = await initPractice(root);
  if (!init.ok) throw new Error(init.sentence);
  return reopen(root);
}

export async function reopen(root: string): Promise<Practice> {
  const practice = await openPractice(root);
  if (!practice.ok) throw new Error(practice.errors.map((error) => error.sentence).join(' '));
  return practice.practice;
}

/** A small picture of seeded noise; the same seed gives the same bytes. */
export async function noise(seed: number, takenAt: string | null = null): Promise<Buffer> {
  const size = 48;
  const pixels = Buffer.alloc(size * size * 3);
  let state = seed + 1;
  for (let at = 0; at < pixels.length; at += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    pixels[at] = state >>> 24;
  }
  const picture = sharp(pixels, { raw: { width: size, height: size, channels: 3 } }).jpeg({ quality: 90 });
  const exif = takenAt
    ? { IFD0: { Make: 'Drawn', Model: 'Scope' }, IFD2: { DateTimeOriginal: takenAt } }
    : { IFD0: { Make: 'Drawn', Model: 'Scope' } };
  return picture.withExif(exif).toBuffer();
}

export type VisitFiles = Record<string, string | Uint8Array>;

/** Writes a visit folder anew: exactly these files. */
export async function writeVisit(folder: string, files: VisitFiles): Promise<string> {
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  for (const [name, content] of Object.entries(files)) {
    await mkdir(join(folder, name, '..'), { recursive: true });
    await writeFile(join(folder, name), content);
  }
  return folder;
}

export const intake = (practice: Practice, folder: string, ports: Ports): Promise<VisitReport[]> =>
  intakeVisits(practice, [folder], ports);

/** SHA-256 of every file of a practice but its inbox, by relative path with random codes masked. */
export async function snapshot(practice: Practice): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  for (const entry of await readdir(practice.root, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    const name = relative(practice.root, path);
    if (!entry.isFile() || name.startsWith('inbox')) continue;
    files.set(
      name,
      createHash('sha256')
        .update(await readFile(path))
        .digest('hex'),
    );
  }
  return files;
}

/** What differs between two snapshots, as kinds of files: "case.json", "images", "private/visits" ... sorted. */
export function changedKinds(before: Map<string, string>, after: Map<string, string>): string[] {
  const names = new Set([...before.keys(), ...after.keys()]);
  const changed = [...names].filter((name) => before.get(name) !== after.get(name));
  return [...new Set(changed.map(kindOf))].sort();
}

function kindOf(name: string): string {
  const parts = name.split('/');
  if (parts[0] === 'cases') return parts[2] === 'case.json' ? 'case.json' : (parts[2] as string);
  return parts.slice(0, 2).join('/');
}
