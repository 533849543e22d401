import { describe, expect, it } from 'vitest';
import { grooveLines } from '../../../src/trade/anatomy/groove-lines.js';
import {
  accessOutline,
  cejOutline,
  chamberFloor,
  type PlacedOrifice,
  type PointMm,
  placeOrifices,
  toothOutline,
  toothSize,
} from '../../../src/trade/anatomy/index.js';
import { overlap } from '../../../src/trade/anatomy/place-orifices.js';
import {
  areaOf,
  boundsOf,
  centroidOf,
  distanceBetween,
  distanceToBorder,
  distanceToSegment,
  isInside,
} from '../../../src/trade/anatomy/polygon.js';
import { ALL_TEETH, isPrimary, isUpper, placeOf } from '../../../src/trade/teeth.js';
import { canalsOf } from '../canal-entries.js';
import { ALL_CASES, named, THIRD_ROOT_CASES, TOOTH_CASES, type ToothCase } from './tooth-cases.js';

const placed = (one: ToothCase): PlacedOrifice[] => placeOrifices(one.fdi, one.canals).orifices;

function at(one: ToothCase, label: string): PlacedOrifice {
  const found = placed(one).find((orifice) => orifice.label === label);
  if (!found) throw new Error(`${named(one)}: no ${label}`);
  return found;
}

const place = (fdi: number, ...labels: string[]): Record<string, PlacedOrifice> =>
  Object.fromEntries(placeOrifices(fdi, canalsOf(...labels)).orifices.map((one) => [one.label, one]));

/** How far `point` lies from the line a-b, mesial (x) positive, and where its foot is as a share of a-b. */
function offLine(point: PointMm, a: PointMm, b: PointMm): { mesialMm: number; foot: number } {
  const along = { x: b.x - a.x, y: b.y - a.y };
  const foot = ((point.x - a.x) * along.x + (point.y - a.y) * along.y) / (along.x ** 2 + along.y ** 2);
  const onLine = { x: a.x + foot * along.x, y: a.y + foot * along.y };
  return { mesialMm: Math.sign(point.x - onLine.x) * distanceBetween(point, onLine), foot };
}

const UPPER_MOLARS = TOOTH_CASES.filter(
  ({ fdi, labels }) =>
    isUpper(fdi) && placeOf(fdi) >= (isPrimary(fdi) ? 4 : 6) && labels.includes('P') && labels.includes('DB'),
);
const WITH_MB2 = UPPER_MOLARS.filter(({ labels }) => labels.includes('MB2'));
const mb1 = ({ labels }: ToothCase): string => (labels.includes('MB1') ? 'MB1' : 'MB');

describe('the number of marks', () => {
  it.each(ALL_CASES.map((one) => [named(one), one] as const))(
    'draws exactly the recorded canals: %s',
    (_, one) => {
      const { orifices, unplaced } = placeOrifices(one.fdi, one.canals);
      expect(orifices.map(({ label }) => label)).toEqual(one.labels);
      expect(unplaced).toEqual([]);
    },
  );

  it('lists what has no known place instead of inventing one', () => {
    const { orifices, unplaced } = placeOrifices(46, canalsOf('MB', 'XX', 'D', 'D', 'P'));
    expect(orifices.map(({ label }) => label)).toEqual(['MB', 'D']);
    expect(unplaced).toEqual(['XX', 'D', 'P']);
  });

  it('marks as filled only what was filled', () => {
    const canals = canalsOf('MB', 'ML', 'D').map((one, index) => ({
      ...one,
      filled: [null, 'not filled', 'gutta-percha'][index] ?? null,
    }));
    expect(placeOrifices(46, canals).orifices.map(({ filled }) => filled)).toEqual([false, false, true]);
  });
});

describe('the upper molars', () => {
  it('keep the mean distances of Kececi et al., Acta Odontol Scand 2014;72:354-361 (176 teeth)', () => {
    const { MB1, MB2, DB, P } = place(16, 'MB1', 'MB2', 'DB', 'P') as Record<string, PlacedOrifice>;
    const between = (a?: PointMm, b?: PointMm): number => distanceBetween(a as PointMm, b as PointMm);
    // Distances between the published means, right and left averaged; both sides differ by up to 0.2 mm.
    expect(between(MB1, MB2)).toBeCloseTo((1.85 + 1.67) / 2, 1);
    expect(between(MB1, P)).toBeCloseTo((5.22 + 5.15) / 2, 1);
    expect(between(MB2, P)).toBeCloseTo((3.44 + 3.57) / 2, 1);
    expect(between(MB1, DB)).toBeCloseTo((2.29 + 2.24) / 2, 1);
    expect(between(DB, P)).toBeCloseTo((3.92 + 3.84) / 2, 1);
    expect(between(MB2, DB)).toBeCloseTo((1.98 + 1.99) / 2, 1);
  });

  it.each(WITH_MB2.map((one) => [named(one), one] as const))(
    'have MB2 mesial of the line MB1-P: %s',
    (_, one) => {
      const [first, second, palatal] = [at(one, 'MB1'), at(one, 'MB2'), at(one, 'P')];
      const { mesialMm, foot } = offLine(second, first, palatal);
      expect(second.y).toBeLessThan(first.y);
      expect(mesialMm).toBeGreaterThan(0);
      expect(mesialMm).toBeLessThan(2);
      expect(foot).toBeGreaterThan(0.2);
      expect(foot).toBeLessThan(0.45);
      expect(distanceBetween(first, second)).toBeGreaterThan(0.7);
      expect(distanceBetween(first, second)).toBeLessThan(3.1);
      expect(second.rx * second.ry).toBeLessThan(first.rx * first.ry);
    },
  );

  it.each(UPPER_MOLARS.map((one) => [named(one), one] as const))(
    'have the triangle MB1-DB-P: %s',
    (_, one) => {
      const [first, distal, palatal] = [at(one, mb1(one)), at(one, 'DB'), at(one, 'P')];
      expect(palatal.y).toBeLessThan(-1.5);
      expect(distal.x).toBeLessThan(first.x);
      expect(palatal.y).toBeLessThan(distal.y);
      expect(distal.y).toBeLessThan(first.y);
      expect(distanceBetween(first, palatal)).toBeGreaterThan(distanceBetween(distal, palatal));
      expect(distanceBetween(distal, palatal)).toBeGreaterThan(distanceBetween(first, distal));
      for (const other of placed(one)) {
        if (other !== palatal && other.label !== 'P')
          expect(palatal.rx * palatal.ry).toBeGreaterThan(other.rx * other.ry);
      }
    },
  );

  it('have an access within 15% of the published classical one (8.91-9.61 mm2, 500 scans, Med Sci Monit 2021)', () => {
    const area = areaOf(accessOutline(16, placeOrifices(16, canalsOf('MB1', 'DB', 'P')).orifices));
    expect(area).toBeGreaterThan(8.91 * 0.85);
    expect(area).toBeLessThan(9.61 * 1.15);
  });
});

describe('the law of symmetry (Krasner and Rankow, J Endod 2004;30:5-16), not for upper molars', () => {
  const PAIRS = [
    ['MB', 'ML'],
    ['B', 'L'],
    ['B', 'P'],
    ['DB', 'DL'],
  ] as const;
  const cases = TOOTH_CASES.filter((one) => !UPPER_MOLARS.includes(one) && !one.labels.includes('C')).flatMap(
    (one) =>
      PAIRS.filter((pair) => pair.every((label) => one.labels.includes(label))).map(
        (pair) => [named(one), one, pair] as const,
      ),
  );

  it.each(cases.filter(([, { fdi }]) => !(isUpper(fdi) && placeOf(fdi) > 5)))(
    'holds for %s',
    (_, one, [buccal, inner]) => {
      const middle = centroidOf(cejOutline(one.fdi)).y;
      const [a, b] = [at(one, buccal), at(one, inner)];
      expect(Math.abs((a.y + b.y) / 2 - middle)).toBeLessThan(0.25);
      expect(Math.abs(a.x - b.x)).toBeLessThan(0.3);
    },
  );

  it.each(TOOTH_CASES.filter(({ labels }) => labels.includes('D')).map((one) => [named(one), one] as const))(
    'puts a single D on the midline: %s',
    (_, one) => {
      expect(Math.abs(at(one, 'D').y - centroidOf(cejOutline(one.fdi)).y)).toBeLessThan(0.3);
    },
  );

  it.each(THIRD_ROOT_CASES.map((one) => [one.fdi, one] as const))(
    'gives way to a third root of %i: DL lies about four times as far out as DB (Gu et al., J Endod 2011)',
    (_, one) => {
      const middle = (at(one, 'MB').y + at(one, 'ML').y) / 2;
      const ratio = (middle - at(one, 'DL').y) / (at(one, 'DB').y - middle);
      expect(ratio).toBeGreaterThan(2.5);
      expect(ratio).toBeLessThan(6);
      expect(distanceBetween(at(one, 'DB'), at(one, 'DL'))).toBeCloseTo(2.93, 1);
    },
  );
});

describe('the lower molars', () => {
  it('keep the published distances of the first molar', () => {
    const { MB, ML, D } = place(46, 'MB', 'ML', 'D') as Record<string, PlacedOrifice>;
    // Harris et al., J Endod 2013: mesial pair 1.4-3 mm (J Endod 2020;46:40-43 has about 3.1 to centres), to D 4.4 mm.
    expect(distanceBetween(MB as PointMm, ML as PointMm)).toBeCloseTo(3.2, 1);
    expect(Math.abs((MB as PointMm).x - (D as PointMm).x)).toBeCloseTo(4.4, 0);
  });

  it.each([36, 46, 37, 47])('have the middle mesial canal in the mesial groove of %i', (fdi) => {
    const { MB, MM, ML } = place(fdi, 'MB', 'MM', 'ML', 'D') as Record<string, PlacedOrifice>;
    const [b, m, l] = [MB, MM, ML] as [PlacedOrifice, PlacedOrifice, PlacedOrifice];
    expect(distanceToSegment(m, b, l)).toBeLessThan(0.4);
    for (const other of [b, l]) {
      expect(distanceBetween(m, other)).toBeGreaterThan(0.8);
      expect(distanceBetween(m, other)).toBeLessThan(2.2);
    }
  });

  it.each(
    TOOTH_CASES.filter(({ fdi }) => fdi % 10 === 6 && !isUpper(fdi)).map((one) => [named(one), one] as const),
  )('keep the first molar in the mesial two thirds: %s', (_, one) => {
    for (const orifice of placed(one)) expect(orifice.x).toBeGreaterThan(-toothSize(one.fdi).crownMd / 6);
  });

  it.each([37, 47, 38, 48])(
    'open a C-shaped floor of %i to the lingual (Min et al., J Endod 2006)',
    (fdi) => {
      const slit = place(fdi, 'C')['C']?.slit as PointMm[];
      expect((slit[Math.floor(slit.length / 2)] as PointMm).y).toBeGreaterThan(1);
      expect((slit[0] as PointMm).y).toBeLessThan(0);
      expect((slit.at(-1) as PointMm).y).toBeLessThan(0);
    },
  );
});

describe('inside the tooth and at the rim of the floor', () => {
  it.each(ALL_CASES.map((one) => [named(one), one] as const))('%s', (_, one) => {
    const neck = cejOutline(one.fdi);
    const orifices = placed(one);
    const wall = isPrimary(one.fdi) ? 0.8 : 1.2;
    for (const orifice of orifices) {
      expect(isInside(neck, orifice)).toBe(true);
      expect(distanceToBorder(neck, orifice)).toBeGreaterThan(wall - 0.05);
      expect(orifices.filter((other) => other !== orifice && overlap(orifice, other))).toEqual([]);
    }
    const floor = chamberFloor(one.fdi, orifices);
    if (orifices.length < 2 || orifices.some(({ slit }) => slit)) return;
    const middle = centroidOf(floor);
    for (const orifice of orifices) expect(distanceBetween(orifice, middle)).toBeGreaterThan(0.5);
  });

  it.each(ALL_CASES.map((one) => [named(one), one] as const))(
    'ends every groove line in an orifice: %s',
    (_, one) => {
      const orifices = placed(one);
      const lines = grooveLines(one.fdi, orifices);
      for (const line of lines) {
        const ends = [line[0], line.at(-1)] as PointMm[];
        const inOrifice = ends.map((end) => orifices.some((orifice) => isInside(orifice.shape, end)));
        const onOther = ends.map((end) =>
          lines.some((other) => other !== line && other.some((point) => distanceBetween(point, end) < 0.3)),
        );
        expect(inOrifice.some(Boolean) || onOther.every(Boolean)).toBe(true);
        expect(ends.every((_end, index) => inOrifice[index] || onOther[index])).toBe(true);
      }
    },
  );
});

describe('outlines', () => {
  it.each(ALL_TEETH)('of %i have the size of the table, the neck inside the crown', (fdi) => {
    const size = toothSize(fdi);
    const crown = boundsOf(toothOutline(fdi));
    expect(crown.right - crown.left).toBeCloseTo(size.crownMd, 6);
    expect(crown.top - crown.bottom).toBeCloseTo(size.crownBl, 6);
    expect(areaOf(toothOutline(fdi))).toBeGreaterThan(0);
    const outline = toothOutline(fdi);
    const outside = cejOutline(fdi).filter((point) => !isInside(outline, point));
    expect(outside.filter((point) => distanceToBorder(outline, point) > 0.05)).toEqual([]);
  });

  it('rank as teaching pages say (Wheeler tradition)', () => {
    const permanent = ALL_TEETH.filter((fdi) => fdi < 50);
    const largest = (of: (fdi: number) => number): number[] => {
      const most = Math.max(...permanent.map(of));
      return permanent.filter((fdi) => of(fdi) === most);
    };
    expect(largest((fdi) => toothSize(fdi).crownMd)).toEqual([36, 46]);
    expect(largest((fdi) => toothSize(fdi).crownBl)).toEqual(expect.arrayContaining([16, 26]));
    expect(largest((fdi) => -areaOf(toothOutline(fdi)))).toEqual([31, 41]);
    const wider = permanent.filter((fdi) => toothSize(fdi).crownMd > toothSize(fdi).crownBl);
    expect([...new Set(wider.map((fdi) => `${isUpper(fdi) ? 'U' : 'L'}${placeOf(fdi)}`))].sort()).toEqual([
      'L6',
      'L7',
      'L8',
      'U1',
      'U2',
    ]);
  });

  it('lean the upper first molar into a rhomboid: acute mesiobuccal and distopalatal corners', () => {
    const outline = toothOutline(16);
    const reach = (x: number, y: number): number =>
      Math.max(...outline.map((point) => point.x * x + point.y * y));
    expect(reach(1, 1)).toBeGreaterThan(reach(-1, 1));
    expect(reach(-1, -1)).toBeGreaterThan(reach(1, -1));
  });
});
