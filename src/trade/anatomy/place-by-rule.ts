import { isPrimary, isUpper, placeOf } from '../teeth.js';
import type { OrificePlace } from './orifice-sets.js';
import { between, midpointOf } from './polygon.js';
import { toothSize } from './tooth-sizes.js';

type PlaceSet = Readonly<Record<string, OrificePlace>>;

/**
 * The place of a label that the chosen set lacks, where the anatomy gives one; null where it does not. `names` are
 * all recorded labels: a merged canal (M, B) has a place only when its parts are not recorded too.
 */
export function placeByRule(
  fdi: number,
  name: string,
  set: PlaceSet,
  names: readonly string[],
): OrificePlace | null {
  if (name === 'main') return names.length === 1 ? inTheMiddle(fdi) : null;
  if (isUpper(fdi))
    return upperMolar(fdi) ? inUpperMolar(fdi, name, set, names) : splitInTwo(fdi, name, names);
  if (lowerMolar(fdi)) return inLowerMolar(name, set, names);
  return splitInTwo(fdi, name, names);
}

const molarFrom = (fdi: number): number => (isPrimary(fdi) ? 4 : 6);
const upperMolar = (fdi: number): boolean => isUpper(fdi) && placeOf(fdi) >= molarFrom(fdi);
const lowerMolar = (fdi: number): boolean => !isUpper(fdi) && placeOf(fdi) >= molarFrom(fdi);

const round = (x: number, y: number, diameter: number): OrificePlace => ({
  x,
  y,
  rx: diameter / 2,
  ry: diameter / 2,
});

/** One canal in a molar: centrality, the floor lies in the middle of the neck (Krasner and Rankow, J Endod 2004). */
function inTheMiddle(fdi: number): OrificePlace {
  const { cejCentre, cejMd, cejBl } = toothSize(fdi);
  return { ...cejCentre, rx: cejMd * 0.1, ry: cejBl * 0.12 };
}

/**
 * MB2 at 32% of MB1-P and 0.42 mm mesial of that line, DB2 0.27 mm mesial and 0.8 mm palatal of DB (means of Kececi
 * et al. 2014), scaled with the tooth; the two palatal canals side by side (from memory).
 */
function inUpperMolar(
  fdi: number,
  name: string,
  set: PlaceSet,
  names: readonly string[],
): OrificePlace | null {
  const { MB1, DB, P } = set;
  if (!P) return null;
  if (['P', 'P1', 'MP', 'P2', 'DP'].includes(name)) return besidePalatal(name, P, names);
  if (!MB1 || !DB) return null;
  const scale = toothSize(fdi).cejBl / 10;
  if (name === 'MB2') {
    const foot = between(MB1, P, 0.32);
    return round(foot.x + 0.42 * scale, foot.y, 0.4);
  }
  if (name === 'MB3') {
    const foot = between(MB1, P, 0.53);
    return round(foot.x + 0.4 * scale, foot.y, 0.3);
  }
  if (name === 'DB2') return round(DB.x + 0.27 * scale, DB.y - 0.82 * scale, 0.4);
  const buccal = names.includes('MB1') || names.includes('DB');
  if (name !== 'B' || buccal) return null;
  return { ...midpointOf(MB1, DB), rx: 0.5 * scale, ry: 0.45 * scale };
}

function besidePalatal(name: string, P: OrificePlace, names: readonly string[]): OrificePlace | null {
  const mesial = name === 'MP' || name === 'P1' || (name === 'P' && names.includes('P2'));
  const others = names.filter((other) => ['P', 'P1', 'MP', 'P2', 'DP'].includes(other));
  if (others.length > 2 || (name === 'P' && !mesial)) return null;
  return round(P.x + (mesial ? 0.6 : -0.6), P.y, 0.8);
}

/**
 * A middle canal lies in the groove between its two neighbours (J Endod 2010, microscope study of mesial canals); one
 * canal of a root lies on the midline (law of symmetry).
 */
function inLowerMolar(name: string, set: PlaceSet, names: readonly string[]): OrificePlace | null {
  const { MB, ML, DB, DL, D } = set;
  if (name === 'MM' && MB && ML) return round(midpointOf(MB, ML).x, midpointOf(MB, ML).y, 0.35);
  if (name === 'MD' && DB && DL) return round(midpointOf(DB, DL).x, midpointOf(DB, DL).y, 0.35);
  if (name === 'M' && MB && ML && !names.some((other) => ['MB', 'ML', 'MM'].includes(other))) {
    return { ...midpointOf(MB, ML), rx: 0.4, ry: 0.6 };
  }
  const pair = D && D.ry > 0.7 ? D : null;
  if ((name === 'DB' || name === 'DL') && pair && !names.includes('D')) {
    const offset = pair.ry + 0.2;
    return { x: pair.x, y: (name === 'DB' ? 1 : -1) * offset, rx: 0.35, ry: 0.4 };
  }
  return null;
}

/** Two or three canals in a tooth whose own set has one: the spacing of its neighbours, as a share of the crown. */
function splitInTwo(fdi: number, name: string, names: readonly string[]): OrificePlace | null {
  const { crownMd, crownBl, cejCentre } = toothSize(fdi);
  const inner = isUpper(fdi) ? 'P' : 'L';
  const size = crownBl * 0.085;
  if (name === inner) return round(cejCentre.x, cejCentre.y - crownBl * 0.11, size);
  if (name === 'B' && !names.includes('MB') && !names.includes('DB')) {
    return round(cejCentre.x, cejCentre.y + crownBl * 0.12, size);
  }
  if (placeOf(fdi) < 4 || isPrimary(fdi)) return null;
  if (name === 'MB' || name === 'DB') {
    return round(cejCentre.x + (name === 'MB' ? 1 : -1) * crownMd * 0.085, cejCentre.y + crownBl * 0.12, 0.5);
  }
  return null;
}
