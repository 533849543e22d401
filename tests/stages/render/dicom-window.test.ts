import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type GreyWindow, throughWindow } from '../../../src/stages/render/dicom/window.js';

const shown = (kind: GreyWindow['kind'], centre: number, width: number, values: number[]): number[] =>
  values.map((value) => throughWindow(value, { centre, width, kind }));

describe('a window', () => {
  // worked by hand from the formulas of DICOM PS3.3, C.11.2.1.2 and C.11.2.1.3, to four digits
  it.each([
    ['LINEAR', 2048, 4096, [0, 1, 1024, 2048, 4095], [0, 0.0623, 63.7656, 127.5311, 255]],
    ['LINEAR', 1000, 400, [800, 801, 900, 1000, 1199], [0, 0.6391, 63.9098, 127.8195, 255]],
    ['LINEAR', 1000, 1, [999, 1000], [0, 255]],
    ['LINEAR_EXACT', 1000, 400, [801, 900, 1199, 1200], [0.6375, 63.75, 254.3625, 255]],
    ['SIGMOID', 2048, 2000, [1048, 2048, 3048], [30.3967, 127.5, 224.6033]],
  ] as const)('%s %d/%d gives what the standard says', (kind, centre, width, values, wanted) => {
    shown(kind, centre, width, [...values]).forEach((level, at) => {
      expect(level).toBeCloseTo(wanted[at]!, 3);
    });
  });

  it('never leaves black to white and never turns the order of values round', () => {
    const numbers = fc.record({
      kind: fc.constantFrom('LINEAR', 'LINEAR_EXACT', 'SIGMOID') as fc.Arbitrary<GreyWindow['kind']>,
      centre: fc.double({ min: -70_000, max: 70_000, noNaN: true }),
      width: fc.double({ min: 1, max: 140_000, noNaN: true }),
      values: fc.tuple(fc.integer({ min: -40_000, max: 70_000 }), fc.integer({ min: -40_000, max: 70_000 })),
    });
    fc.assert(
      fc.property(numbers, ({ values, ...window }) => {
        const [low, high] = [...values].sort((a, b) => a - b).map((value) => throughWindow(value, window));
        return low! >= 0 && high! <= 255 && low! <= high!;
      }),
    );
  });
});
