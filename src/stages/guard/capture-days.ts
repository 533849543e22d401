import type { GuardedPicture } from './guarded-picture.js';

/** A longer pause than this between two pictures in a row makes two clusters; a visit fits into half a day. */
const LONGEST_PAUSE_SECONDS = 12 * 3600;

interface Taken {
  name: string;
  /** Camera time with its offset, counted as if it were UTC: only differences matter. */
  seconds: number;
}

/**
 * Names of the pictures outside the visit's own cluster of capture times; empty when there is one cluster. The
 * visit's own is the one with a picture of the visit's day, else the one with most pictures (the later, if equal).
 */
export function takenOnOtherDays(
  pictures: readonly GuardedPicture[],
  offsetsSeconds: Readonly<Record<string, number>>,
  visitDate: string | null,
): string[] {
  const clusters = clustersOf(pictures.flatMap((picture) => takenOf(picture, offsetsSeconds)));
  if (clusters.length < 2) return [];
  const onTheDay = clusters.find((cluster) => cluster.some(({ seconds }) => dayOf(seconds) === visitDate));
  const largest = Math.max(...clusters.map((cluster) => cluster.length));
  const own = onTheDay ?? clusters.findLast((cluster) => cluster.length === largest);
  const apart = new Set(
    clusters
      .filter((cluster) => cluster !== own)
      .flat()
      .map(({ name }) => name),
  );
  return pictures.map(({ name }) => name).filter((name) => apart.has(name));
}

function takenOf(
  { name, facts, source }: GuardedPicture,
  offsets: Readonly<Record<string, number>>,
): Taken[] {
  const seconds = facts.takenAt === null ? null : secondsOf(facts.takenAt);
  if (seconds === null) return [];
  const key = [name, source, facts.source].find((one) => one != null && Object.hasOwn(offsets, one));
  return [{ name, seconds: seconds + (key == null ? 0 : (offsets[key] ?? 0)) }];
}

/** Camera time as written; a zone behind it is left aside, since cameras disagree on what it means. */
function secondsOf(takenAt: string): number | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})/.exec(takenAt);
  if (found === null) return null;
  const [year, month, day, hour, minute, second] = found.slice(1).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const time = Date.UTC(year, month - 1, day, hour, minute, second);
  const isReal = year >= 1900 && new Date(time).toISOString().startsWith(takenAt.slice(0, 10));
  return isReal ? time / 1000 : null;
}

const dayOf = (seconds: number): string => new Date(seconds * 1000).toISOString().slice(0, 10);

function clustersOf(taken: readonly Taken[]): Taken[][] {
  const clusters: Taken[][] = [];
  let before: Taken | undefined;
  for (const one of taken.toSorted((a, b) => a.seconds - b.seconds)) {
    if (before === undefined || one.seconds - before.seconds > LONGEST_PAUSE_SECONDS) clusters.push([]);
    clusters.at(-1)!.push(one);
    before = one;
  }
  return clusters;
}
