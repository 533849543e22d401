import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findBytes } from '../../../src/stages/strip/find-bytes.js';

/** Few different bytes, so that needles meet, overlap and nearly match. */
const bytes = (least: number, most: number) =>
  fc
    .array(fc.constantFrom(0, 65, 66, 255), { minLength: least, maxLength: most })
    .map((list) => Buffer.from(list));

test('many searches in one pass find what one search for each finds', () => {
  fc.assert(
    fc.property(bytes(0, 200), fc.array(bytes(2, 7), { maxLength: 6 }), (file, needles) => {
      const found = findBytes(file, needles);
      for (const needle of needles) expect(found.has(needle)).toBe(file.includes(needle));
    }),
    { numRuns: 2000 },
  );
});

test('a needle at the very start and one at the very end are found, one that is longer than the file is not', () => {
  const file = Buffer.from('Rowan and Testcase');
  const [start, end, long] = ['Rowan', 'Testcase', 'Testcase and more than the file'].map((text) =>
    Buffer.from(text),
  );
  expect([...findBytes(file, [start!, end!, long!])]).toEqual([start, end]);
});
