import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  handedness,
  type OrificeDiagram,
  orificeDiagram,
  type PointMm,
  parityOf,
  toDiagramPose,
  toothFrameToPicture,
} from '../../../src/trade/anatomy/index.js';
import { letterBox } from '../../../src/trade/anatomy/orifice-diagram.js';
import { type Bounds, boxesMeet, isInside } from '../../../src/trade/anatomy/polygon.js';
import { ALL_TEETH, mesialSideOnFilm } from '../../../src/trade/teeth.js';
import { canal, canalsOf } from '../canal-entries.js';
import { ALL_CASES, named } from './tooth-cases.js';

function draw(fdi: number, ...labels: string[]): OrificeDiagram {
  const diagram = orificeDiagram({ fdi }, canalsOf(...labels));
  if (!diagram) throw new Error('no diagram');
  return diagram;
}

const MESIAL = { x: 1, y: 0 };
const BUCCAL = { x: 0, y: 1 };

describe('parity: (mesial x buccal) with y up', () => {
  // Worked out from the patient's axes: +1 in the upper right and lower left, -1 in the other two quadrants.
  const SIGN: Record<number, number> = { 1: 1, 2: -1, 3: 1, 4: -1, 5: 1, 6: -1, 7: 1, 8: -1 };

  it.each(ALL_TEETH)('of %i holds in the diagram and in every direct view, and turns in a mirror', (fdi) => {
    const sign = SIGN[Math.floor(fdi / 10)];
    expect(parityOf(fdi)).toBe(sign);
    const pose = toDiagramPose(fdi);
    expect(handedness(pose(MESIAL), pose(BUCCAL))).toBe(sign);
    for (const rotationDeg of [0, 17, 90, 180, 271]) {
      for (const mirror of [false, true]) {
        const view = toothFrameToPicture(fdi, { mirror, rotationDeg });
        expect(handedness(view(MESIAL), view(BUCCAL))).toBe(mirror ? -(sign as number) : sign);
      }
    }
  });

  it.each([16, 26, 36, 46, 55, 65, 75, 85])(
    'survives half a turn of %i and breaks when one axis is flipped',
    (fdi) => {
      const pose = toDiagramPose(fdi);
      const turned = ({ x, y }: PointMm): PointMm => ({ x: -pose({ x, y }).x, y: -pose({ x, y }).y });
      const flipped = ({ x, y }: PointMm): PointMm => ({ x: -pose({ x, y }).x, y: pose({ x, y }).y });
      expect(handedness(turned(MESIAL), turned(BUCCAL))).toBe(parityOf(fdi));
      expect(handedness(flipped(MESIAL), flipped(BUCCAL))).toBe(-parityOf(fdi));
    },
  );

  it('agrees with the published means of the two sides (Kececi et al. 2014, buccal +y as printed)', () => {
    // MB1 of the right upper first molar is printed at x = +0.67, of the left at x = -0.78; buccal is up in both.
    expect(Math.sign(toDiagramPose(16)({ x: 0.73, y: 2.62 }).x)).toBe(Math.sign(0.67));
    expect(Math.sign(toDiagramPose(26)({ x: 0.73, y: 2.62 }).x)).toBe(Math.sign(-0.78));
  });

  it('gives picture rows with y down on request', () => {
    const up = toothFrameToPicture(46, { rotationDeg: 30 })({ x: 1, y: 2 });
    const down = toothFrameToPicture(46, { rotationDeg: 30, yDown: true })({ x: 1, y: 2 });
    expect(down).toEqual({ x: up.x, y: -up.y });
  });
});

describe('the pose of the diagram', () => {
  const quarter = (diagram: OrificeDiagram, label: string): string => {
    const mark = diagram.orifices.find((one) => one.label === label) as OrificeDiagram['orifices'][number];
    return `${mark.y > diagram.centre.y ? 'upper' : 'lower'} ${mark.x > diagram.centre.x ? 'right' : 'left'}`;
  };

  it('puts the canals of the four first molars where a clinician looks for them', () => {
    expect(quarter(draw(16, 'MB1', 'DB', 'P'), 'MB1')).toBe('upper right');
    expect(quarter(draw(26, 'MB1', 'DB', 'P'), 'MB1')).toBe('upper left');
    expect(quarter(draw(36, 'MB', 'ML', 'D'), 'MB')).toBe('lower left');
    expect(quarter(draw(36, 'MB', 'ML', 'D'), 'ML')).toBe('upper left');
    expect(quarter(draw(36, 'MB', 'ML', 'D'), 'D')).toContain('right');
    expect(quarter(draw(46, 'MB', 'ML', 'D'), 'MB')).toBe('lower right');
    const upper = draw(16, 'MB1', 'DB', 'P');
    const palatal = upper.orifices.find(({ label }) => label === 'P') as PointMm;
    expect(upper.orifices.every((one) => one.y >= palatal.y)).toBe(true);
  });

  it.each(ALL_TEETH)('letters the edges of %i; mesial on the side a film has it', (fdi) => {
    const { letters, centre } = draw(fdi, 'main');
    const letter = (text: string): PointMm => letters.find((one) => one.text === text) as PointMm;
    const upper = [1, 2, 5, 6].includes(Math.floor(fdi / 10));
    expect(letters.map(({ text }) => text).sort()).toEqual(['B', 'D', 'M', upper ? 'P' : 'L'].sort());
    expect(letter('B').y > centre.y).toBe(upper);
    expect(letter(upper ? 'P' : 'L').y > centre.y).toBe(!upper);
    expect(letter('M').x > centre.x ? 'right' : 'left').toBe(mesialSideOnFilm(fdi));
    expect(letter('D').x > centre.x).toBe(letter('M').x < centre.x);
    const from = (a: PointMm, b: PointMm): PointMm => ({ x: a.x - b.x, y: a.y - b.y });
    const across = from(letter('M'), letter('D'));
    const up = from(letter('B'), letter(upper ? 'P' : 'L'));
    expect(handedness(across, up)).toBe(parityOf(fdi));
  });
});

/** Box of a label in type whose characters are 0.62 of the size wide: wider than Source Sans 3 needs on average. */
function labelBox(one: OrificeDiagram['orifices'][number], textMm: number): Bounds {
  const width = [...one.label].length * 0.62 * textMm;
  const { x, y, anchor } = one.labelAt;
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { left, right: left + width, bottom: y, top: y + 0.66 * textMm };
}

describe('labels', () => {
  it.each(ALL_CASES.map((one) => [named(one), one] as const))(
    'stay clear of marks, letters and each other: %s',
    (_, one) => {
      const diagram = orificeDiagram({ fdi: one.fdi }, one.canals) as OrificeDiagram;
      const boxes = diagram.orifices.map((mark) => labelBox(mark, diagram.textMm));
      boxes.forEach((box, index) => {
        expect(boxes.some((other, at) => at !== index && boxesMeet(box, other, 0))).toBe(false);
        expect(diagram.letters.some((letter) => boxesMeet(box, letterBox(letter, diagram.textMm), 0))).toBe(
          false,
        );
        const inside = (point: PointMm): boolean =>
          point.x > box.left && point.x < box.right && point.y > box.bottom && point.y < box.top;
        expect(diagram.orifices.some((mark) => mark.shape.some(inside))).toBe(false);
        expect(box.left).toBeGreaterThan(0);
        expect(box.right).toBeLessThan(diagram.widthMm);
        expect(box.bottom).toBeGreaterThan(0);
        expect(box.top).toBeLessThan(diagram.heightMm);
        const centre = { x: (box.left + box.right) / 2, y: (box.bottom + box.top) / 2 };
        expect(isInside(diagram.outline, centre)).toBe(true);
      });
    },
  );
});

describe('the diagram as a whole', () => {
  it.each(ALL_CASES.map((one) => [named(one), one] as const))('stays on its ground: %s', (_, one) => {
    const diagram = orificeDiagram({ fdi: one.fdi }, one.canals) as OrificeDiagram;
    const points = [
      ...diagram.outline,
      ...diagram.cej,
      ...diagram.access,
      ...diagram.floor,
      ...diagram.grooves.flat(),
      ...diagram.orifices.flatMap(({ shape }) => shape),
    ];
    const off = points.filter(({ x, y }) => x < 0 || x > diagram.widthMm || y < 0 || y > diagram.heightMm);
    expect(off).toEqual([]);
    for (const mark of diagram.orifices) {
      expect(mark.shape.every((point) => isInside(diagram.access, point))).toBe(true);
    }
  });

  it('shows a join between two recorded canals only', () => {
    const joined = [
      canal('MB'),
      canal('MM', { joins: { canal: 'mb', at: 4 } }),
      canal('ML', { joins: { canal: 'XX', at: 2 } }),
      canal('D', { joins: { canal: 'D', at: 2 } }),
    ];
    const { joins } = orificeDiagram({ fdi: 46 }, joined) as OrificeDiagram;
    expect(joins.map(({ from, to }) => [from, to])).toEqual([['MM', 'MB']]);
  });

  it('draws no tooth whose form nobody knows, and nothing when no canal is recorded', () => {
    expect(orificeDiagram({ supernumerary: 'near 21' }, canalsOf('main'))).toBeNull();
    expect(orificeDiagram({ fdi: 46 }, [])).toBeNull();
  });

  it('places or lists every recorded canal, once, whatever the labels', () => {
    const label = fc.oneof(
      fc.constantFrom(
        'MB',
        'MB1',
        'MB2',
        'MB3',
        'ML',
        'MM',
        'M',
        'D',
        'DB',
        'DL',
        'DB2',
        'MD',
        'P',
        'L',
        'B',
        'C',
        'main',
        'MP',
        'DP',
        'P1',
        'P2',
      ),
      fc.string({ maxLength: 12 }),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...ALL_TEETH),
        fc.array(label, { minLength: 1, maxLength: 7 }),
        (fdi, labels) => {
          const diagram = orificeDiagram({ fdi }, canalsOf(...labels)) as OrificeDiagram;
          expect([...diagram.orifices.map((one) => one.label), ...diagram.unplaced].sort()).toEqual(
            [...labels].sort(),
          );
          const numbers = diagram.orifices.flatMap(({ x, y, labelAt }) => [x, y, labelAt.x, labelAt.y]);
          expect(numbers.every(Number.isFinite)).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});
