import { join } from 'node:path';
import type { FormatName } from '../../core/format-name.js';
import type { Practice } from '../../practice/index.js';
import type { Ports } from '../ports.js';
import type { DraftPicture } from './capture-order.js';

const TILE_PX = 480;

/** Formats that are no picture to a common decoder: they are made into a display picture first. */
const MADE_FIRST: readonly FormatName[] = ['DICOM', 'HEIC'];

/** Nothing of a tile's stripped file is kept, so its new UIDs need no secret. */
const THROWAWAY_KEY = '0'.repeat(64);

/** A small picture for the contact sheet; null when it cannot be opened. */
export async function tileOf(practice: Practice, picture: DraftPicture, at: number, ports: Ports) {
  const path = MADE_FIRST.includes(picture.facts.format)
    ? await displayOf(practice, picture, ports)
    : (picture.file.path as string);
  if (path === null) return null;
  const size = { maxWidthPx: TILE_PX, maxHeightPx: TILE_PX, grey: false };
  const small = await ports.workers.reduce({ path, ...size });
  if (small.kind !== 'kept') return null;
  const { jpeg, widthPx, heightPx } = small.value;
  const time = picture.takenAt?.replace('T', ' ').slice(0, 19) ?? 'no capture time';
  const kind = picture.radiograph ? 'grey, perhaps a radiograph' : 'colour';
  const frames = picture.facts.frames ?? 1;
  const lines = [time, frames > 1 ? `${kind}; frame 1 of ${frames}` : kind];
  return { number: at + 1, name: picture.file.name, jpeg, widthPx, heightPx, lines };
}

async function displayOf(
  practice: Practice,
  { file, facts, radiograph }: DraftPicture,
  ports: Ports,
): Promise<string | null> {
  const waiting = (what: string): string => join(practice.paths.tmp, `${file.sha256}-tile-${what}`);
  const into = { display: waiting('display'), stripped: waiting('stripped') };
  const how = { facts, radiograph, flip: false, frame: 1, uidKey: THROWAWAY_KEY, into };
  const made = await ports.workers.make({ path: file.path as string, ...how });
  return made.kind === 'kept' ? into.display : null;
}
