import { describe, expect, it } from 'vitest';
import { figuresText } from '../../../src/stages/sheet/blocks/closing-matter.js';
import { figuresOf, sheetRecord } from '../../../src/stages/sheet/index.js';
import { clause } from '../../../src/stages/sheet/words/stage-words.js';
import { readPages } from './given/pdf-reader.js';
import { canal, course, picture, record } from './given/records.js';
import { drawn, plan, planned } from './given/sheets.js';

const textOf = async (...args: Parameters<typeof drawn>) =>
  (await readPages(await drawn(...args)))
    .flatMap(({ texts }) => texts.map(({ text }) => text))
    .join(' ')
    .replace(/\s+/g, ' ');

describe('the words of a sheet', () => {
  it('name the tooth in words and two notations, and leave a line for the patient', async () => {
    const text = await textOf(record());
    expect(text).toContain('Lower right first molar: root canal treatment');
    expect(text).toMatch(/FDI 46, Universal 30/);
    expect(text).toContain('Patient');
  });

  it('say under a figure how it was taken, flipped, turned and covered', async () => {
    const text = await textOf(record());
    expect(text).toContain('×10; mirror view, flipped; mesial left, buccal up');
    expect(text).toContain('× is the setting of the microscope');
    expect(text).toContain('A mirror view that was flipped reads as direct vision');
    expect(text).toContain('identifying text covered');
    expect(text).toContain('visit 2, day 14');
  });

  it('never show an extraoral picture, which may show a face', async () => {
    const own = await planned(record([picture(1), picture(2, { view: 'extraoral' })]));
    expect(figuresOf(own).map(({ number }) => number)).toEqual([1]);
    expect(JSON.stringify(sheetRecord(own))).not.toContain('extraoral');
  });

  it('show a canal that joins another, lengths with their reference, and what is not recorded', async () => {
    const canals = [
      canal('MB'),
      canal('MM', { length: null, reference: null, joins: { canal: 'MB', at: 4 } }),
      canal('D', { length: 20.25, size: null, taper: null, filled: null }),
    ];
    const text = await textOf(record([], { canals }));
    expect(text).toMatch(/joins MB, 4 mm from the apex/);
    expect(text).toMatch(/20\.25 mm/);
    expect(text).toMatch(/20\.5 mm/);
    expect(text.match(/not recorded/g)!.length).toBeGreaterThanOrEqual(3);
  });

  it('never part a number from its unit', () => {
    expect(clause('Ledge 4 mm deep, 50 % gone, 3 mmm, 12 months.')).toBe(
      'Ledge 4\u00a0mm deep, 50\u00a0% gone, 3 mmm, 12\u00a0months',
    );
  });

  it('say of the drawn diagram that it is schematic and not to scale', async () => {
    expect(await textOf(record())).toContain('schematic, typical positions, not to scale');
  });

  it('show the latest course only, with its visits merged', async () => {
    const text = await textOf({
      ...record([
        picture(1, { caption: 'Of the first course' }),
        picture(2, { course: 2, caption: 'Of the second' }),
      ]),
      courses: [course(), course({ course: 2, kind: 'retreatment' })],
    });
    expect(text).toContain('Lower right first molar: retreatment');
    expect(text).toContain('Of the second');
    expect(text).not.toContain('Of the first course');
  });

  it('name a character the fonts lack by code point and field, and never the text', async () => {
    const result = await plan(record([picture(7, { caption: 'Secretword 漢' })]));
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.problems).toHaveLength(1);
    expect(result.problems[0]).toContain('U+6F22');
    expect(result.problems[0]).toContain('pictures.7.caption');
    expect(result.problems[0]).not.toContain('Secretword');
  });

  it('join letters and marks that came apart (Unicode NFC)', async () => {
    expect(await textOf(record([picture(1, { caption: 'Cafe\u0301 o\u030B' })]))).toContain('Café ő');
  });

  it('number figures in the order of reading', async () => {
    const sheet = await planned(record());
    expect(sheet.shown.map(({ figure }) => figure)).toEqual(
      sheet.shown.map(({ figure }) => figure).toSorted((a, b) => a - b),
    );
    expect(figuresText([1, 2, 3, 7])).toBe('Figs.\u00a01–3 and 7');
    expect(figuresText([4])).toBe('Fig.\u00a04');
  });
});

describe('the record of a sheet', () => {
  it('lists its pictures, and holds no case code', async () => {
    const json = JSON.stringify(sheetRecord(await planned(record())));
    expect(json).not.toContain('K7QD2M');
    expect(JSON.parse(json)).toMatchObject({
      template: 'referrer',
      audience: 'referrer',
      shareCode: '9VTC4H',
      tooth: { fdi: 46, words: 'lower right first molar' },
    });
    expect(JSON.parse(json).pictures).toHaveLength(9);
    expect(JSON.parse(json).pictures[0]).toMatchObject({
      figure: 1,
      number: 1,
      stage: 'pre-op',
      view: 'periapical',
    });
  });

  it('asks for at most 300 pixels an inch, and fewer when told', async () => {
    const sheet = await planned(record());
    const figures = figuresOf(sheet);
    expect(figures).toHaveLength(9);
    for (const { maxWidthPx } of figures) expect(maxWidthPx).toBeLessThanOrEqual((180 / 25.4) * 300);
    expect(figures.find(({ number }) => number === 1)!.grey).toBe(true);
    expect(figures.find(({ number }) => number === 2)!.grey).toBe(false);
    const coarse = figuresOf({ ...sheet, maxDpi: 150 });
    expect(coarse[0]!.maxWidthPx).toBe(Math.floor(figures[0]!.maxWidthPx / 2));
  });
});
