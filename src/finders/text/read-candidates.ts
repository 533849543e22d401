/** Shows every candidate to the recogniser, turned the ways it may stand. */
import type { FinderPicture, FoundBox } from '../finder.js';
import type { Candidate } from './candidates.js';
import type { Net } from './detector.js';
import { type Reading, readLines } from './recogniser.js';
import { cropped, type Quarters, turned } from './turn.js';

export interface ReadCandidate extends Candidate, Reading {}

/** More places than any overlay has; the surest are read, the rest count as unread. */
const MOST_READ = 48;
/** A box this much taller than wide holds a line that runs up or down. */
const TALL = 1.4;
/** Under this confidence a wide line is read upside down as well. */
const UNSURE = 0.6;

const waysOf = ([, , width, height]: FoundBox): Quarters[] =>
  height > width * TALL ? [1, 3] : height > width / TALL ? [0, 1, 3] : [0];

export const lettersIn = (text: string): number =>
  text.match(/[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Nd}]/gu)?.length ?? 0;

/** More letters, more surely read. */
const worth = ({ text, confidence }: Reading): number => confidence * Math.sqrt(lettersIn(text));

const better = (a: Reading, b: Reading): Reading => (worth(b) > worth(a) ? b : a);

const NOTHING: Reading = { text: '', confidence: 0 };

export async function readCandidates(
  net: Net,
  keys: readonly string[],
  picture: FinderPicture,
  candidates: readonly Candidate[],
): Promise<ReadCandidate[]> {
  const surest = [...candidates].sort((a, b) => b.score - a.score).slice(0, MOST_READ);
  const readings = new Map<Candidate, Reading>(candidates.map((candidate) => [candidate, NOTHING]));
  const readThem = async (asked: readonly [Candidate, Quarters][]): Promise<void> => {
    const crops = asked.map(([{ box }, quarters]) => turned(cropped(picture, box), quarters));
    const results = await readLines(net, keys, crops);
    asked.forEach(([candidate], i) => {
      readings.set(candidate, better(readings.get(candidate) as Reading, results[i] as Reading));
    });
  };
  await readThem(surest.flatMap((one) => waysOf(one.box).map((way): [Candidate, Quarters] => [one, way])));
  const unsure = surest.filter(
    (one) => one.box[2] > 2 * one.box[3] && (readings.get(one) as Reading).confidence < UNSURE,
  );
  await readThem(unsure.map((one) => [one, 2]));
  return candidates.map((candidate) => ({ ...candidate, ...(readings.get(candidate) as Reading) }));
}
