import { canonicalCanal, isFilled } from '../canals.js';
import { isUpper } from '../teeth.js';
import type { CanalEntry } from '../visit-document.js';
import { ellipse, slitAround, smoothThrough } from './curves.js';
import { C_SLIT_MM, cShapeLine, type OrificePlace, orificeSet, orificeSets } from './orifice-sets.js';
import { cejOutline } from './outlines.js';
import { placeByRule } from './place-by-rule.js';
import { boundsOf, boxesMeet, distanceToBorder, isInside, type PointMm } from './polygon.js';

/** A recorded canal with its place in the tooth frame. */
export interface PlacedOrifice extends OrificePlace {
  /** As recorded. */
  label: string;
  /** The label in its one spelling, e.g. MB1 for MB in an upper molar. */
  name: string;
  filled: boolean;
  /** The outline to draw: an ellipse, or the slit of a C-shaped tooth. */
  shape: PointMm[];
  /** Centreline of a slit; null for an ellipse. */
  slit: PointMm[] | null;
}

export interface Placed {
  orifices: PlacedOrifice[];
  /** Labels without a published place and without a rule: listed, never drawn at an invented place. */
  unplaced: string[];
}

const GAP_MM = 0.1;

/** Places for exactly the recorded canals, in the recorded order; nothing that nobody recorded. */
export function placeOrifices(fdi: number, canals: readonly CanalEntry[]): Placed {
  const names = canals.map((canal) => canonicalCanal(fdi, canal.canal));
  const places = placesFor(fdi, names, canals.some(hasThirdRoot));
  const result: Placed = { orifices: [], unplaced: [] };
  canals.forEach((canal, at) => {
    const name = names[at] as string;
    const place = names.indexOf(name) === at ? places.get(name) : undefined;
    const orifice = place && { label: canal.canal, name, filled: isFilled(canal), ...place };
    if (orifice && !result.orifices.some((other) => overlap(orifice, other))) result.orifices.push(orifice);
    else result.unplaced.push(canal.canal);
  });
  return result;
}

type Place = Pick<PlacedOrifice, 'x' | 'y' | 'rx' | 'ry' | 'shape' | 'slit'>;

function placesFor(fdi: number, names: readonly string[], thirdRoot: boolean): Map<string, Place> {
  const slits = cShape(fdi, names);
  const set = bestSet(fdi, names, thirdRoot);
  const places = new Map<string, Place>();
  for (const name of names) {
    const slit = slits.get(name);
    const place = slit ? null : (set[name] ?? placeByRule(fdi, name, set, names));
    if (slit) places.set(name, slit);
    else if (place && fits(fdi, place))
      places.set(name, { ...place, slit: null, shape: ellipse(place, place.rx, place.ry) });
  }
  return places;
}

/** The set that holds most of the recorded labels, and of those the one with the fewest others. */
function bestSet(fdi: number, names: readonly string[], thirdRoot: boolean): Record<string, OrificePlace> {
  const four = orificeSet(fdi, 'four');
  const radix = orificeSet(fdi, 'radix');
  if (radix && names.includes('DL') && (thirdRoot || names.includes('D'))) {
    return { ...radix, D: radix['DB'] as OrificePlace };
  }
  if (four?.['DL'] && names.includes('D') && names.includes('DB')) return { ...four, D: four['DL'] };
  const sets = Object.entries(orificeSets(fdi));
  const score = ([name, set]: (typeof sets)[number]): number =>
    names.filter((label) => label in set).length - Object.keys(set).length / 100 - (name === 'radix' ? 1 : 0);
  return sets.reduce((best, next) => (score(next) > score(best) ? next : best))[1];
}

const hasThirdRoot = (canal: CanalEntry): boolean => /third root|radix|entomolaris/i.test(canal.note ?? '');

/** C alone is the whole slit; with ML apart it runs MB to D; with a mesial or MB canal it starts past the cut. */
function cShape(fdi: number, names: readonly string[]): Map<string, Place> {
  const line = names.includes('C') ? cShapeLine(fdi) : null;
  if (line === null) return new Map();
  const cut = names.includes('MB') || names.includes('M');
  const rest = line.slice(cut ? 4 : names.includes('ML') ? 2 : 0);
  const centreline = smoothThrough(rest);
  const middle = centreline[Math.floor(centreline.length / 2)] as PointMm;
  const half = C_SLIT_MM / 2;
  return new Map([
    ['C', { ...middle, rx: half, ry: half, slit: centreline, shape: slitAround(centreline, C_SLIT_MM) }],
  ]);
}

/** Inside the neck of the tooth, with some wall left; otherwise a place by rule would be a guess. */
function fits(fdi: number, place: OrificePlace): boolean {
  const neck = cejOutline(fdi);
  return isInside(neck, place) && distanceToBorder(neck, place) > (isUpper(fdi) ? 0.8 : 0.7);
}

/** True when two marks touch or come closer than a tenth of a millimetre. */
export function overlap(a: Pick<PlacedOrifice, 'shape'>, b: Pick<PlacedOrifice, 'shape'>): boolean {
  if (!boxesMeet(boundsOf(a.shape), boundsOf(b.shape), GAP_MM)) return false;
  return (
    a.shape.some((point) => isInside(b.shape, point) || distanceToBorder(b.shape, point) < GAP_MM) ||
    b.shape.some((point) => isInside(a.shape, point))
  );
}
