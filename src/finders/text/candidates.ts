/** Every place of a picture that may hold text, before anyone reads it. */
import type { FinderPicture, FoundBox, FoundText } from '../finder.js';
import { areaOf, clipped, grown, sharedArea, unclipped } from './boxes.js';
import { componentsOf } from './components.js';
import { type Net, textMap } from './detector.js';
import { colouredMarks, flatMarks, lumaOf } from './pixel-rules.js';
import { resampled } from './resample.js';
import { evenedContrast } from './surroundings.js';
import { type Quarters, scaledBox, turned, turnedBack } from './turn.js';

export interface Candidate {
  box: FoundBox;
  /** Mean probability of the net over the core of the line; of a rule's place a fixed one. */
  score: number;
  by: FoundText['by'];
}

/** Map values (0-255) from which pixels belong together: 0.1. Low, so that pale letters do not part a line. */
const MAP_LEAST = 26;
const UNCLIP_RATIO = 1.6;
const LEAST_SCORE = 0.25;
/** Of the view; the core of a line of 6-pixel letters is about this high. */
const LEAST_CORE_PX = 3;
/** Small letters are found best enlarged; a larger picture is shown as large as memory and time allow. */
const ENLARGED = 1.5;
const MOST_ENLARGED_PX = 4_200_000;
const MOST_PLAIN_PX = 2_100_000;
/** Half the side of the surroundings that contrast is measured against. */
const SURROUNDINGS_PX = 20;
/** Lettering a rule looks for: up to this share of the picture's shorter side, and never under 24 pixels. */
const TALLEST_SHARE = 1 / 14;
const RULE_SCORE = 0.5;

function shownAt(picture: FinderPicture, scale: number, mostPx: number): FinderPicture {
  const fit = Math.min(scale, Math.sqrt(mostPx / (picture.widthPx * picture.heightPx)));
  const width = Math.max(1, Math.round(picture.widthPx * fit));
  const height = Math.max(1, Math.round(picture.heightPx * fit));
  return resampled(picture, width, height);
}

/** Boxes in pixels of the view. */
async function seenByNet(net: Net, view: FinderPicture, quarters: Quarters): Promise<Candidate[]> {
  const map = await textMap(net, turned(view, quarters));
  return componentsOf(map, MAP_LEAST).flatMap((part) => {
    const score = part.mean / 255;
    if (score < LEAST_SCORE || Math.min(part.box[2], part.box[3]) < LEAST_CORE_PX) return [];
    const box = turnedBack(unclipped(part.box, UNCLIP_RATIO), quarters, view);
    return [{ box, score, by: 'net' as const }];
  });
}

/** Boxes in pixels of the view. */
function seenByRules(view: FinderPicture): Candidate[] {
  const tallest = Math.max(24, Math.round(Math.min(view.widthPx, view.heightPx) * TALLEST_SHARE));
  const place =
    (by: Candidate['by']) =>
    (mark: FoundBox): Candidate => {
      const outPx = Math.max(2, Math.min(mark[2], mark[3]) * 0.2);
      return { box: grown(mark, outPx, outPx), score: RULE_SCORE, by };
    };
  return [
    ...colouredMarks(view, tallest).map(place('chroma')),
    ...flatMarks(lumaOf(view), tallest).map(place('flat')),
  ];
}

/** A place that another view holds in a box of about its size need not be read twice. */
function isNew(candidate: Candidate, known: readonly Candidate[]): boolean {
  const area = areaOf(candidate.box);
  const [held, ofKnown] = candidate.by === 'net' ? [0.9, 0.6] : [0.7, 0];
  return known.every(
    ({ box }) => sharedArea(box, candidate.box) < held * area || area < ofKnown * areaOf(box),
  );
}

/**
 * The net is shown the picture enlarged; and as it is with its local contrast evened, which brings up what is pale,
 * upright and turned, since it sees best along rows. Two rules on pixels add what it passes over, lone letters above
 * all.
 */
export async function candidatesOf(net: Net, picture: FinderPicture): Promise<Candidate[]> {
  const enlarged = shownAt(picture, ENLARGED, MOST_ENLARGED_PX);
  const plain = shownAt(picture, 1, MOST_PLAIN_PX);
  const evened = evenedContrast(lumaOf(plain), SURROUNDINGS_PX);
  const found: Candidate[] = [];
  const add = (view: FinderPicture, candidates: readonly Candidate[]): void => {
    for (const candidate of candidates) {
      const box = clipped(scaledBox(candidate.box, view, picture), picture);
      if (box && isNew({ ...candidate, box }, found)) found.push({ ...candidate, box });
    }
  };
  add(enlarged, await seenByNet(net, enlarged, 0));
  add(evened, await seenByNet(net, evened, 0));
  add(evened, await seenByNet(net, evened, 1));
  add(plain, seenByRules(plain));
  return found;
}
