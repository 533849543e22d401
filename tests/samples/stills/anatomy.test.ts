import { describe, expect, it } from 'vitest';
import { floorHull, makeCavity } from '../../../sample-images/drawing/stills/cavity.js';
import { axesOf, makeGround } from '../../../sample-images/drawing/stills/ground.js';
import {
  lineDistance,
  loopDistance,
  segmentDistance,
} from '../../../sample-images/drawing/stills/outline.js';
import {
  FDI_24,
  FDI_46,
  mesialTwoThirdsMm,
  type ToothShape,
} from '../../../sample-images/drawing/stills/tooth-shapes.js';
import { VISITS } from '../../../sample-images/drawing/visits.js';

const stills = VISITS.flatMap((visit) => visit.files).filter((one) => one.kind === 'still');
const named = (shape: ToothShape, canal: string) => shape.orifices.find((o) => o.canal === canal)!;

describe('the side of the mouth', () => {
  // direct view: +1 in the upper right and lower left quadrants, -1 in the other two (vector algebra, picture with
  // y up); one reflection turns the sign. A mirror image of a tooth is a tooth of the other side.
  it.each(stills.map((one) => [one.file, one] as const))(
    '%s has the parity of its quadrant and view',
    (_, one) => {
      const quadrant = Math.floor(one.tooth.shape.fdi / 10);
      const direct = quadrant === 1 || quadrant === 3 ? 1 : -1;
      // uppers here are all recorded in the mirror, and one lower view is
      const mirrored = quadrant === 2 || one.file === 'IMG_0417.JPG';
      expect(one.shot.pose.parity).toBe(mirrored ? -direct : direct);
      const { mesial: m, buccal: b } = axesOf(one.shot.pose);
      expect(m[0] * b[1] - m[1] * b[0]).toBeCloseTo(one.shot.pose.parity, 9);
    },
  );

  it('is the same in the cells of the picture, and a flip turns it', () => {
    for (const { shot } of stills) {
      const g = makeGround(40, 30, 2, shot.pose, shot.centre);
      const at = (i: number, j: number) => [g.x[j * 40 + i]!, g.y[j * 40 + i]!] as const;
      const sign = (left: number, right: number): number => {
        const [x0, y0] = at(left, 15);
        const [x1, y1] = at(right, 15);
        const [x2, y2] = at(left, 5);
        return Math.sign((x1 - x0) * (y2 - y0) - (y1 - y0) * (x2 - x0));
      };
      expect(sign(10, 30)).toBe(shot.pose.parity);
      expect(sign(30, 10)).toBe(-shot.pose.parity);
    }
  });
});

describe('the floor of the lower first molar', () => {
  it('has its mesial pair level and even about the middle, and D on the middle', () => {
    const [mb, ml, d] = [named(FDI_46, 'MB'), named(FDI_46, 'ML'), named(FDI_46, 'D')];
    expect(Math.abs((mb.y + ml.y) / 2)).toBeLessThan(0.25);
    expect(Math.abs(mb.x - ml.x)).toBeLessThan(0.3);
    expect(Math.abs(d.y)).toBeLessThan(0.3);
  });

  it('has MM on the line from MB to ML, clear of both', () => {
    const [mb, mm, ml] = [named(FDI_46, 'MB'), named(FDI_46, 'MM'), named(FDI_46, 'ML')];
    expect(segmentDistance(mm.x, mm.y, [mb.x, mb.y], [ml.x, ml.y])).toBeLessThan(0.4);
    for (const other of [mb, ml]) {
      const apart = Math.hypot(mm.x - other.x, mm.y - other.y);
      expect(apart).toBeGreaterThan(0.8);
      expect(apart).toBeLessThan(2.2);
    }
  });

  it('keeps every orifice in the mesial two thirds of the crown', () => {
    for (const o of FDI_46.orifices) expect(o.x).toBeGreaterThan(mesialTwoThirdsMm(FDI_46));
  });

  it('has the mesial pair and the distal orifice as far apart as measured teeth (mesial 1.4-3.8, M to D about 4.4 mm)', () => {
    const [mb, ml, d] = [named(FDI_46, 'MB'), named(FDI_46, 'ML'), named(FDI_46, 'D')];
    expect(mb.y - ml.y).toBeGreaterThan(1.4);
    expect(mb.y - ml.y).toBeLessThan(3.8);
    expect(mb.x - d.x).toBeGreaterThan(3.9);
    expect(mb.x - d.x).toBeLessThan(4.9);
  });
});

describe.each([
  ['46', FDI_46],
  ['24', FDI_24],
] as const)('the orifices of %s', (_, shape) => {
  it('lie within the neck less the thickness of the wall', () => {
    for (const o of shape.orifices) {
      const out = Math.hypot(o.x / (shape.neck.md / 2 - 1.2), o.y / (shape.neck.bl / 2 - 1.2));
      expect(out).toBeLessThan(1);
    }
  });

  it('do not touch', () => {
    for (const [n, a] of shape.orifices.entries())
      for (const b of shape.orifices.slice(n + 1)) {
        const [dx, dy] = [Math.abs(a.x - b.x), Math.abs(a.y - b.y)];
        const apart = Math.hypot(dx, dy);
        const half = (o: typeof a): number =>
          0.5 / Math.hypot(dx / apart / o.widthMd, dy / apart / o.widthBl);
        expect(apart - half(a) - half(b)).toBeGreaterThan(0.1);
      }
  });

  it('lie at the rim of the floor and never in its middle', () => {
    const hull = floorHull(shape);
    const cavity = makeCavity(shape, 1);
    const middle = [0, 1].map((k) => hull.reduce((sum, spot) => sum + spot[k as 0 | 1], 0) / hull.length);
    for (const o of shape.orifices) {
      expect(Math.hypot(o.x - middle[0]!, o.y - middle[1]!)).toBeGreaterThan(0.5);
      expect(loopDistance(o.x, o.y, hull)).toBeLessThan(Math.max(o.widthMd, o.widthBl) / 2 + 0.2);
      expect(cavity.floorMm(o.x, o.y)).toBeGreaterThan(0);
    }
  });

  it('end every line of the floor', () => {
    const centres = shape.orifices.map((o) => [o.x, o.y] as const);
    for (const [n, line] of shape.grooves.entries())
      for (const end of [line[0]!, line.at(-1)!]) {
        const atOrifice = centres.some(([x, y]) => Math.hypot(x - end[0], y - end[1]) < 0.3);
        const others = shape.grooves.filter((_other, k) => k !== n);
        const atLine = others.some((other) => lineDistance(end[0], end[1], other) < 0.05);
        expect(atOrifice || atLine).toBe(true);
      }
  });

  it('crown has the size of its tooth', () => {
    const spread = (k: 0 | 1): number =>
      Math.max(...shape.outline.map((s) => s[k])) - Math.min(...shape.outline.map((s) => s[k]));
    expect(Math.abs(spread(0) - shape.crownMd)).toBeLessThan(0.2);
    expect(Math.abs(spread(1) - shape.crownBl)).toBeLessThan(0.2);
  });
});
