import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../src/finders/text/boxes.js';
import { componentsOf, type Plane } from '../../../src/finders/text/components.js';

const plane: fc.Arbitrary<Plane> = fc
  .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
  .chain(([widthPx, heightPx]) =>
    fc
      .uint8Array({ minLength: widthPx * heightPx, maxLength: widthPx * heightPx })
      .map((data) => ({ data, widthPx, heightPx })),
  );

const drawn = (rows: readonly string[]): Plane => ({
  data: Uint8Array.from(rows.join(''), (sign) => (sign === '#' ? 200 : 0)),
  widthPx: rows[0]!.length,
  heightPx: rows.length,
});

describe('connected parts', () => {
  it('touch also over corners', () => {
    const parts = componentsOf(drawn(['#....', '.#...', '....#', '....#']), 100);
    expect(parts.map(({ box, pixels }) => [box, pixels])).toEqual([
      [[0, 0, 2, 2], 2],
      [[4, 2, 1, 2], 2],
    ]);
  });

  it('do not wrap around the edges of the picture', () => {
    expect(componentsOf(drawn(['..#', '#..']), 100)).toHaveLength(2);
  });

  it('together hold every pixel at or over the level, each once, with its value', () => {
    fc.assert(
      fc.property(plane, fc.integer({ min: 1, max: 255 }), (one, least) => {
        const parts = componentsOf(one, least);
        const over = one.data.filter((value) => value >= least);
        expect(parts.reduce((sum, part) => sum + part.pixels, 0)).toBe(over.length);
        const sum = parts.reduce((total, part) => total + part.pixels * part.mean, 0);
        expect(sum).toBeCloseTo(
          over.reduce((total, value) => total + value, 0),
          6,
        );
        for (const part of parts) {
          expect(part.pixels).toBeLessThanOrEqual(areaOf(part.box));
          expect(part.highest).toBeGreaterThanOrEqual(part.mean);
        }
      }),
    );
  });

  it('are as many as a plain merging of neighbours leaves', () => {
    fc.assert(
      fc.property(plane, fc.integer({ min: 1, max: 255 }), (one, least) => {
        expect(componentsOf(one, least)).toHaveLength(countByMerging(one, least));
      }),
    );
  });
});

/** The slow way: every pixel a part of its own, neighbours renamed until nothing changes. */
function countByMerging({ data, widthPx, heightPx }: Plane, least: number): number {
  const name = Array.from(data, (value, at) => (value >= least ? at : -1));
  for (let changed = true; changed; ) {
    changed = false;
    for (let at = 0; at < name.length; at++) {
      if (name[at] === -1) continue;
      const [x, y] = [at % widthPx, Math.floor(at / widthPx)];
      for (const [dx, dy] of [
        [1, 0],
        [0, 1],
        [1, 1],
        [-1, 1],
      ] as const) {
        const [nx, ny] = [x + dx, y + dy];
        if (nx < 0 || nx >= widthPx || ny >= heightPx) continue;
        const next = ny * widthPx + nx;
        if (name[next] === -1 || name[next] === name[at]) continue;
        const low = Math.min(name[at]!, name[next]!);
        name[at] = low;
        name[next] = low;
        changed = true;
      }
    }
  }
  return new Set(name.filter((one) => one !== -1)).size;
}
