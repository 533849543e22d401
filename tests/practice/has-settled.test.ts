import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hasSettled, type Look, type Print } from '../../src/practice/index.js';

const print = (size: number, more: Partial<Print> = {}): Print => ({
  size,
  mtimeNs: 1n,
  ctimeNs: 1n,
  ino: 1n,
  dev: 1n,
  ...more,
});
const lookAt = (atMs: number, files: Record<string, Print>): Look => ({
  atMs,
  prints: new Map(Object.entries(files)),
});

describe('a folder has settled', () => {
  it('once all in it has been the same for the whole quiet time, and not a moment before', () => {
    const looks = [0, 2000, 4000].map((atMs) => lookAt(atMs, { a: print(1), b: print(2) }));
    expect(hasSettled(looks, 4000)).toBe(true);
    expect(hasSettled(looks, 4001)).toBe(false);
    expect(hasSettled(looks.slice(0, 1), 0)).toBe(true);
  });

  it('never when empty or never looked at', () => {
    expect(hasSettled([], 0)).toBe(false);
    expect(hasSettled([lookAt(0, {}), lookAt(9e9, {})], 0)).toBe(false);
  });

  it.each([
    ['size', { size: 2 }],
    ['modified time', { mtimeNs: 2n }],
    ['change time', { ctimeNs: 2n }],
    ['inode', { ino: 2n }],
    ['device', { dev: 2n }],
  ])('not while one file differs in its %s', (_, more) => {
    const looks = [lookAt(0, { a: print(1), b: print(1) }), lookAt(5000, { a: print(1), b: print(1, more) })];
    expect(hasSettled(looks, 1)).toBe(false);
  });

  it('not while a file came, went, or was renamed', () => {
    const one = { a: print(1) };
    for (const other of [{ a: print(1), b: print(1) }, { b: print(1) }]) {
      expect(hasSettled([lookAt(0, one), lookAt(5000, other)], 1)).toBe(false);
      expect(hasSettled([lookAt(0, other), lookAt(5000, one)], 1)).toBe(false);
    }
  });

  it('counts from the last change, also when an old state comes back', () => {
    const looks = [1, 2, 1, 1].map((size, at) => lookAt(at * 1000, { a: print(size) }));
    expect(hasSettled(looks, 1000)).toBe(true);
    expect(hasSettled(looks, 1001)).toBe(false);
  });

  it('exactly when no change lies within the quiet time before the last look', () => {
    const gaps = fc.array(fc.tuple(fc.nat(3000), fc.nat(2)), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(gaps, fc.nat(9000), (steps, quietMs) => {
        let atMs = 0;
        const looks = steps.map(([gap, size]) => {
          atMs += gap;
          return lookAt(atMs, { a: print(size + 1) });
        });
        const sizes = steps.map(([, size]) => size);
        const lastOther = sizes.findLastIndex((size) => size !== sizes.at(-1));
        const since = (looks[lastOther + 1] as Look).atMs;
        return hasSettled(looks, quietMs) === atMs - since >= quietMs;
      }),
    );
  });

  it('not when the clock given to it runs backwards', () => {
    expect(hasSettled([lookAt(9000, { a: print(1) }), lookAt(0, { a: print(1) })], 1)).toBe(false);
  });
});
