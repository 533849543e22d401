/** Every place of a picture that may hold text, before anyone reads it. */
import type { FinderPicture, FoundBox, FoundText } from '../finder.js';
import { areaOf, clipped, grown, type Size, sharedArea, unclipped } from './boxes.js';
import { componentsOf } from './components.js';
import { type Net, textMap } from './detector.js';
import { colouredMarks, flatMarks, lumaOf } from './pixel-rules.js';
import { resampled } from './resample.js';
import { type Quarters, scaledBox, turned, turnedBack } from './turn.js';

export interface Candidate {
  box: FoundBox;
  /** Mean probability of the net over the core of the line; of a rule's place a fixed one. */
  score: number;
  by: FoundText['by'];
}

/** How the net is shown the picture. */
interface View {
  quarters: Quarters;
  /** Pixels of the view for one of the picture. */
  scale: number;
}

/** Map values (0-255) from which pixels belong together: 0.1. Low, so that pale letters do not part a line. */
const MAP_LEAST = 26;
const UNCLIP_RATIO = 1.6;
const LEAST_SCORE = 0.25;
/** Of the view; the core of a line of 6-pixel letters is about this high. */
const LEAST_CORE_PX = 3;
const UPRIGHT_SCALE = 1.5;
const TURNED_SCALE = 1;
/** Pixels of a view at most; larger pictures are shown smaller. */
const MOST_UPRIGHT_PX = 4_200_000;
const MOST_TURNED_PX = 2_100_000;
/** Lettering a rule looks for: up to this share of the picture's height, and never under 24 pixels. */
const TALLEST_SHARE = 1 / 14;
const RULE_SCORE = 0.5;

/** Scaled up as far as helps, down as far as memory and time ask. */
function viewsOf({ widthPx, heightPx }: Size): View[] {
  const pixels = widthPx * heightPx;
  return [
    { quarters: 0, scale: Math.min(UPRIGHT_SCALE, Math.sqrt(MOST_UPRIGHT_PX / pixels)) },
    { quarters: 1, scale: Math.min(TURNED_SCALE, Math.sqrt(MOST_TURNED_PX / pixels)) },
  ];
}

async function seenByNet(net: Net, picture: FinderPicture, view: View): Promise<Candidate[]> {
  const width = Math.max(1, Math.round(picture.widthPx * view.scale));
  const height = Math.max(1, Math.round(picture.heightPx * view.scale));
  const scaled = resampled(picture, width, height);
  const map = await textMap(net, turned(scaled, view.quarters));
  return componentsOf(map, MAP_LEAST).flatMap((part) => {
    const score = part.mean / 255;
    if (score < LEAST_SCORE || Math.min(part.box[2], part.box[3]) < LEAST_CORE_PX) return [];
    const upright = turnedBack(unclipped(part.box, UNCLIP_RATIO), view.quarters, scaled);
    const box = clipped(scaledBox(upright, scaled, picture), picture);
    return box ? [{ box, score, by: 'net' as const }] : [];
  });
}

function seenByRules(picture: FinderPicture): Candidate[] {
  const tallest = Math.max(24, Math.round(Math.min(picture.widthPx, picture.heightPx) * TALLEST_SHARE));
  const place = (by: Candidate['by']) => (mark: FoundBox) => {
    const outPx = Math.max(2, Math.min(mark[2], mark[3]) * 0.2);
    const box = clipped(grown(mark, outPx, outPx), picture);
    return box ? [{ box, score: RULE_SCORE, by }] : [];
  };
  return [
    ...colouredMarks(picture, tallest).flatMap(place('chroma')),
    ...flatMarks(lumaOf(picture), tallest).flatMap(place('flat')),
  ];
}

/** A rule's place that the net holds already says nothing new. */
const isNew = (candidate: Candidate, known: readonly Candidate[]): boolean =>
  known.every(({ box }) => sharedArea(box, candidate.box) < 0.7 * areaOf(candidate.box));

export async function candidatesOf(net: Net, picture: FinderPicture): Promise<Candidate[]> {
  const found: Candidate[] = [];
  for (const view of viewsOf(picture)) found.push(...(await seenByNet(net, picture, view)));
  for (const candidate of seenByRules(picture)) if (isNew(candidate, found)) found.push(candidate);
  return found;
}
