/**
 * A visit without a sidecar is no dead end: a numbered contact sheet to write on and a visit.yaml that holds all that
 * the pictures say by themselves. Comes in: a visit folder. Leaves: two files under private/drafts. Originals are
 * stored on the way, since pictures are safe first and labelled later.
 */
import { mkdir, readFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { clearTmp, type Practice, writeAtomically } from '../../practice/index.js';
import { drawContactSheet } from '../../stages/sheet/index.js';
import { inParallel } from '../in-parallel.js';
import { type Drop, readDrop } from '../intake/drop.js';
import { recognise } from '../intake/recognise.js';
import { bringsErased } from '../intake/refuse-drop.js';
import { readOnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble, Trouble } from '../trouble.js';
import { inCaptureOrder } from './capture-order.js';
import { draftSidecar } from './draft-sidecar.js';
import { tileOf } from './draft-tile.js';

export interface DraftPaths {
  /** Absolute. */
  folder: string;
  contactSheet: string;
  sidecar: string;
}

export async function makeDraft(practice: Practice, folder: string, ports: Ports): Promise<DraftPaths> {
  const drop = await readDrop(practice, folder, ports, true);
  if (bringsErased(drop)) throw new Trouble({ code: 'erased' });
  try {
    return await draftOfDrop(practice, drop, ports);
  } finally {
    orTrouble(await clearTmp(practice));
  }
}

async function draftOfDrop(practice: Practice, drop: Drop, ports: Ports): Promise<DraftPaths> {
  const facts = await recognise(drop, await readOnFile(practice), ports);
  const offsets = practice.settings.sources;
  const pictures = inCaptureOrder(drop.files, facts, offsets);
  const tiles = await inParallel(pictures, ports.workersAtOnce, (picture, at) =>
    tileOf(practice, picture, at, ports),
  );
  const pdf = await drawContactSheet({
    title: drop.name,
    tiles: tiles.flatMap((tile) => tile ?? []),
    fonts: await ports.fonts(),
    paper: practice.settings.paper,
  });
  const target = join(practice.paths.drafts, drop.name);
  await mkdir(target, { recursive: true, mode: 0o700 });
  const contactSheet = join(target, 'contact-sheet.pdf');
  const sidecar = join(target, 'visit.yaml');
  orTrouble(await writeAtomically(contactSheet, pdf, { mode: 0o600 }));
  const written = await writeBeside(sidecar, Buffer.from(draftSidecar(pictures)));
  return { folder: target, contactSheet, sidecar: written };
}

/** A draft that somebody has begun to correct is never written over: the new one goes beside it. */
async function writeBeside(path: string, bytes: Uint8Array): Promise<string> {
  const there = await readFile(path).catch(() => null);
  if (there && Buffer.compare(there, bytes) === 0) return path;
  const free = there ? path.replace(/\.yaml$/, '.new.yaml') : path;
  orTrouble(await writeAtomically(free, bytes, { mode: 0o600 }));
  return free;
}

/** A path as the person at the terminal reads it. */
export const shortPath = (practice: Practice, path: string): string => relative(practice.root, path);
