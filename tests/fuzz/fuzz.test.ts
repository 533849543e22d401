import { describe, expect, test } from 'vitest';
import { fuzz } from './fuzz.js';
import { mutantOf } from './mutant.js';
import { drawSeeds, KINDS } from './seeds.js';

describe('five hundred damaged files', () => {
  test('crash nothing, hang nowhere, and each is kept or held with a sentence', async () => {
    const report = await fuzz({
      from: 0,
      count: 500,
      only: null,
      size: 2,
      hangMs: 20_000,
      progress: () => undefined,
    });
    expect(report.faults).toEqual([]);
    for (const kind of KINDS) {
      const outcomes = Object.keys(report.outcomes[kind] ?? {});
      expect([kind, outcomes.includes('kept')]).toEqual([kind, true]);
      expect([kind, outcomes.some((outcome) => outcome.startsWith('held'))]).toEqual([kind, true]);
    }
    const total = Object.values(report.outcomes).flatMap((counts) => Object.values(counts));
    expect(total.reduce((sum, count) => sum + count, 0)).toBe(500);
  }, 300_000);

  test('are the same files every time, and all unlike the sound ones they were made from', async () => {
    const [seeds, again] = await Promise.all([drawSeeds(), drawSeeds()]);
    for (let number = 0; number < 200; number++) {
      const [one, two] = [mutantOf(number, seeds), mutantOf(number, again)];
      expect([number, one.bytes.equals(two.bytes)]).toEqual([number, true]);
    }
    const changed = Array.from({ length: 200 }, (_, number) => mutantOf(number, seeds)).filter(
      ({ from, kind, bytes }) =>
        !seeds.find((seed) => seed.name === from && seed.kind === kind)!.bytes.equals(bytes),
    );
    expect(changed.length).toBeGreaterThan(190);
  });
});
