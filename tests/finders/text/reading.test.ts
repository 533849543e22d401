import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tilesAlong } from '../../../src/finders/text/detector.js';
import { groupGlyphs } from '../../../src/finders/text/glyph-groups.js';
import { readKeys, readSteps } from '../../../src/finders/text/recogniser.js';

const KEYS = readKeys('a\nb\nc\n');

/** Probabilities of a path, 0.9 for its class and the rest shared. */
function path(classes: readonly number[]): Float32Array {
  const all = KEYS.length;
  return Float32Array.from({ length: classes.length * all }, (_, i) =>
    i % all === classes[Math.floor(i / all)] ? 0.9 : 0.1 / (all - 1),
  );
}

const read = (classes: readonly number[]) => readSteps(path(classes), classes.length, KEYS.length, KEYS);

describe('readings', () => {
  it('know the space after the last key', () => {
    expect(KEYS).toEqual(['', 'a', 'b', 'c', ' ']);
    expect(readKeys('a\r\nb\r\nc')).toEqual(KEYS);
  });

  it('drop repeats, unless no character stands between them (Graves et al. 2006, section 3)', () => {
    expect(read([1, 1, 0, 1, 2, 2, 4, 3]).text).toBe('aab c');
    expect(read([1, 1, 0, 1, 2, 2, 4, 3]).confidence).toBeCloseTo(0.9, 5);
  });

  it('say nothing, with no confidence, of a line without characters', () => {
    expect(read([0, 0, 0])).toEqual({ text: '', confidence: 0 });
    expect(read([4, 0, 4])).toEqual({ text: '', confidence: 0 });
  });

  it('collapse any path to the same text as the textbook two steps', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1 }), (classes) => {
        const once = classes.filter((one, i) => one !== classes[i - 1]);
        const wanted = once.map((one) => KEYS[one]).join('');
        expect(read(classes).text).toBe(wanted.trim());
      }),
    );
  });
});

describe('tiles', () => {
  it('hold the whole length, overlap, and are of one size the net takes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12_000 }), (length) => {
        const tiles = tilesAlong(length);
        expect(tiles[0]![0]).toBe(0);
        expect(tiles.at(-1)![0] + tiles.at(-1)![1]).toBe(length);
        for (const [i, [start, size]] of tiles.entries()) {
          expect(size).toBeLessThanOrEqual(1984);
          if (i > 0) expect(tiles[i - 1]![0] + tiles[i - 1]![1] - start).toBeGreaterThanOrEqual(100);
        }
      }),
    );
  });
});

describe('glyph groups', () => {
  it('join letters of one line, across and down, and leave a lone letter alone', () => {
    const across = [0, 1, 2].map((i): [number, number, number, number] => [100 + i * 14, 40, 10, 16]);
    const down = [0, 1, 2].map((i): [number, number, number, number] => [400, 100 + i * 14, 16, 10]);
    const groups = groupGlyphs([...across, ...down, [600, 300, 11, 15]]);
    expect(groups).toContainEqual([100, 40, 38, 16]);
    expect(groups).toContainEqual([400, 100, 16, 38]);
    expect(groups).toContainEqual([600, 300, 11, 15]);
    expect(groups).toHaveLength(3);
  });
});
