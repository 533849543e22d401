import { isUpper } from '../teeth.js';
import { bowed, smoothThrough } from './curves.js';
import type { PlacedOrifice } from './place-orifices.js';
import { midpointOf, type PointMm } from './polygon.js';

/**
 * The dark lines of the floor that link orifices (law of orifice location 3: each ends in an orifice). Drawn under
 * the orifices, tooth frame. Uppers: along the mesial wall from MB1 to P, and from DB to it, a leaning T; lowers: MB
 * to ML, and from its middle to the distal, a lying Y (courses from memory).
 */
export function grooveLines(fdi: number, orifices: readonly PlacedOrifice[]): PointMm[][] {
  const byName = new Map(orifices.filter((one) => !one.slit).map((one) => [one.name, one]));
  const pick = (...names: string[]): PlacedOrifice[] =>
    names.flatMap((name) => {
      const found = byName.get(name);
      return found ? [found] : [];
    });
  return isUpper(fdi) ? upperGrooves(pick) : lowerGrooves(pick);
}

type Pick = (...names: string[]) => PlacedOrifice[];

function upperGrooves(pick: Pick): PointMm[][] {
  const palatal = pick('P', 'P1', 'MP', 'P2', 'DP');
  const pair = palatal.length === 2 ? [smoothThrough(palatal)] : [];
  const end = palatal.length === 2 ? [midpointOf(palatal[0] as PointMm, palatal[1] as PointMm)] : palatal;
  if (pick('MB').length > 0) return fork(pick('MB'), pick('DB'), end);
  const mesial = [...pick('MB1', 'MB2', 'MB3', 'B'), ...end];
  const wall =
    mesial.length < 2
      ? null
      : mesial.length === 2
        ? gentle(mesial, pick('B').length > 0)
        : smoothThrough(mesial);
  const distal = pick('DB', 'DB2');
  if (distal.length === 0) return [...(wall ? [wall] : []), ...pair];
  if (wall === null) {
    const only = [...distal, ...mesial];
    return only.length > 1 ? [smoothThrough(only), ...pair] : pair;
  }
  const foot = wall[Math.floor(wall.length * 0.46)] as PointMm;
  return [wall, smoothThrough([...distal, foot]), ...pair];
}

/** The groove hugs the mesial wall, so it bows to the mesial; a groove between B and P runs straight. */
const gentle = (ends: readonly PointMm[], straight: boolean): PointMm[] =>
  straight ? smoothThrough(ends) : bowed(ends[0] as PointMm, ends[1] as PointMm, 0.4);

/** Two orifices on one side and one on the other: a Y. */
function fork(left: readonly PointMm[], right: readonly PointMm[], end: readonly PointMm[]): PointMm[][] {
  const [a] = left;
  const [b] = right;
  const [c] = end;
  if (!a || !b || !c) {
    const rest = [...left, ...right, ...end];
    return rest.length > 1 ? [smoothThrough(rest)] : [];
  }
  const middle = midpointOf(a, b);
  return [
    smoothThrough([a, { x: middle.x, y: middle.y - 0.12 * Math.sign(a.y - c.y) }, b]),
    smoothThrough([middle, c]),
  ];
}

function lowerGrooves(pick: Pick): PointMm[][] {
  if (pick('B').length > 0) return line(pick('B', 'L'));
  if (pick('MB').length > 0 && pick('L').length > 0) return fork(pick('MB'), pick('DB'), pick('L'));
  const mesial = pick('MB', 'MM', 'ML');
  const distal = pick('DB', 'MD', 'DL');
  const across = line(mesial);
  const stem =
    mesial.length > 1
      ? midpointOf(mesial[0] as PointMm, mesial.at(-1) as PointMm)
      : (mesial[0] ?? pick('M')[0]);
  const single = pick('D')[0];
  if (!stem) return line(single ? [...distal, single] : distal);
  if (single) return [...across, ...toDistal(stem, [single, ...distal])];
  if (distal.length < 2) return [...across, ...toDistal(stem, distal)];
  const [first, last] = [distal[0] as PointMm, distal.at(-1) as PointMm];
  if (Math.abs(first.x - last.x) < 0.15) return [...across, ...line(distal), [stem, midpointOf(first, last)]];
  return [...across, ...toDistal(stem, distal)];
}

const line = (points: readonly PointMm[]): PointMm[][] => (points.length > 1 ? [smoothThrough(points)] : []);

/** From the middle of the mesial groove to each distal orifice, parting on the way. */
function toDistal(stem: PointMm, ends: readonly PointMm[]): PointMm[][] {
  return ends.map((end) =>
    smoothThrough([stem, { x: stem.x + (end.x - stem.x) * 0.45, y: stem.y + (end.y - stem.y) * 0.3 }, end]),
  );
}
