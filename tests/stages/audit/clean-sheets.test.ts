import { describe, expect, it } from 'vitest';
import { record } from '../sheet/given/records.js';
import { drawn } from '../sheet/given/sheets.js';
import { cleanCase } from './given/clean-cases.js';
import { kindsOf, read } from './given/read.js';

describe('fifty clean sheets', () => {
  it.each(Array.from({ length: 50 }, (_, seed) => seed))('give no hit: sheet %i', async (seed) => {
    const { record: clean, settings, terms } = cleanCase(seed);
    const pdf = await drawn(clean, settings);
    expect(await read(pdf, terms)).toEqual({ hits: [], possible: [], unread: [] });
  });

  it('give one as soon as their own terms stand on them', async () => {
    for (const seed of [0, 1, 4, 8]) {
      const { record: clean, settings, terms } = cleanCase(seed);
      const [first] = clean.pictures;
      first!.caption = `Seen with ${terms.patients[0]!.names[0]}`;
      expect(kindsOf(await read(await drawn(clean, settings), terms))).toContain('patient-name');
    }
  });

  it('nor does the record of a case, but for the letterhead of another practice', async () => {
    const { terms } = cleanCase(1);
    expect(await read(JSON.stringify(record(), null, 2), terms)).toEqual({
      hits: [],
      possible: [],
      unread: [],
    });
    const { settings } = cleanCase(1);
    const other = await read(await drawn(record(), settings), { ...terms, allowed: [] });
    expect(kindsOf(other)).toEqual(expect.arrayContaining(['name', 'phone']));
  });
});
