import type { PictureFacts } from '../../core/picture-facts.js';
import type { Settings } from '../../core/settings.js';
import type { DropFile } from '../intake/drop.js';
import type { FactsOfDrop } from '../intake/recognise.js';
import { isFrom } from '../intake/sort-pictures.js';

export interface DraftPicture {
  file: DropFile;
  facts: PictureFacts;
  /** As the camera wrote it, with the offset of its source added. */
  takenAt: string | null;
  /** A picture with one grey channel: radiographs are, microscope stills are not. */
  radiograph: boolean;
  /** Pictures of one device taken close together share a group, counted from 1. */
  group: number;
}

/** Between two groups of pictures lies at least this much time; common practice, no source. */
const GROUP_GAP_MS = 10 * 60_000;

/**
 * Order in which pictures were probably taken: by capture time within one device, devices one after the other by
 * their first picture; a picture without a time keeps its place by its file number. Clocks of two devices are never
 * compared picture by picture, since they seldom agree.
 */
export function inCaptureOrder(
  files: readonly DropFile[],
  facts: FactsOfDrop,
  sources: Settings['sources'],
): DraftPicture[] {
  const seen = new Set<string>();
  // Of equal pictures the one with the shorter name: "IMG_0414.JPG" rather than its copy "IMG_0414 (2).JPG".
  const plainFirst = files.toSorted((a, b) => a.name.length - b.name.length);
  const pictures = plainFirst.flatMap((file): DraftPicture[] => {
    const known = file.sha256 === null || file.reason ? undefined : facts.get(file.sha256);
    if (!known || seen.has(file.sha256 as string)) return [];
    seen.add(file.sha256 as string);
    const offset = sources.find((source) => isFrom(source.source, known, file.name))?.offset ?? 0;
    const takenAt = shifted(known.takenAt, offset);
    return [{ file, facts: known, takenAt, radiograph: known.grey, group: 0 }];
  });
  const devices = groupByDevice(pictures);
  const lists = [...devices.values()].map((list) => list.toSorted(byTimeThenName));
  lists.sort((a, b) => compare(a[0]?.takenAt ?? '9999', b[0]?.takenAt ?? '9999'));
  return grouped(lists);
}

function groupByDevice(pictures: readonly DraftPicture[]): Map<string, DraftPicture[]> {
  const devices = new Map<string, DraftPicture[]>();
  for (const picture of pictures) {
    const key = `${picture.facts.device ?? ''}/${picture.radiograph}`;
    devices.set(key, [...(devices.get(key) ?? []), picture]);
  }
  return devices;
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Numbers in names count as numbers: IMG_9 comes before IMG_10. */
const byName = new Intl.Collator('en', { numeric: true });

function byTimeThenName(a: DraftPicture, b: DraftPicture): number {
  const time = a.takenAt && b.takenAt ? compare(a.takenAt, b.takenAt) : 0;
  return time || byName.compare(a.file.name, b.file.name);
}

function grouped(lists: readonly DraftPicture[][]): DraftPicture[] {
  let group = 0;
  return lists.flatMap((list) => {
    let before: number | null = null;
    return list.map((picture, at) => {
      const now = picture.takenAt ? Date.parse(`${picture.takenAt}Z`) : null;
      const far = before !== null && now !== null && now - before > GROUP_GAP_MS;
      if (at === 0 || far) group += 1;
      before = now ?? before;
      return { ...picture, group };
    });
  });
}

/** Adds seconds to a camera's time; the time stays text without a zone. */
function shifted(takenAt: string | null, seconds: number): string | null {
  if (takenAt === null || seconds === 0) return takenAt;
  const ms = Date.parse(`${takenAt}Z`);
  return Number.isNaN(ms) ? takenAt : new Date(ms + seconds * 1000).toISOString().slice(0, -1);
}
