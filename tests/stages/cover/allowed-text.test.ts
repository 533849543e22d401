import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isAllowedText } from '../../../src/stages/cover/index.js';

describe('the allow-list', () => {
  it.each([
    'R',
    'L',
    ' R ',
    '(L)',
    '[R]',
    'RT',
    'Lt',
    'RIGHT',
    'left',
    'R right',
    'L LEFT',
    'Ｒ',
    '5',
    '0',
    '10 mm',
    '1 cm',
    '10mm',
    '0.5 mm',
    '23.4mm',
    '0 5 10 mm',
    '0 1 2 cm',
    '2,5 mm',
    '100 mm',
    '30 cm',
    '200 µm',
    '200 μm',
    '50 um',
  ])('lets side markers and scale numbers stay: %s', (text) => {
    expect(isAllowedText(text)).toBe(true);
  });

  it.each([
    '',
    ' ',
    'r',
    'l',
    'I',
    '1l',
    'RL',
    'R R',
    'RE',
    'LI',
    'LE',
    'R. Testcase',
    'Right Testcase',
    'R left',
    'L R',
    // may be a tooth, an age, a day, a chart number or a part of one
    '12',
    '46',
    '10',
    '84',
    '1984',
    '0042',
    '5 5',
    '1/2',
    '3.4',
    '-5',
    '+5',
    '#5',
    '5.',
    '5 y',
    '5 Mar',
    // no length
    '10 m',
    '10 nm',
    '0 5 10',
    '5 10 mm',
    '0 10 5 mm',
    '0510mm',
    '0 12 03 198 mm',
    '123.4 mm',
    '999 mm',
    '31 cm',
    '007 mm',
    '1 10 mm',
    '10 mm 2026',
    '10 mm Rowan',
    'mm',
    '10 kV',
    '１２',
    '2026-02-11',
    '14:30',
    'Rowan',
    'DOB',
    'ID 5',
    'R5',
    '5R',
  ])('lets nothing else stay: "%s"', (text) => {
    expect(isAllowedText(text)).toBe(false);
  });

  it('lets no text stay that has more letters than a side or a unit, or more digits than a scale', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 20 }), (text) => {
        if (!isAllowedText(text)) return;
        const plain = text.normalize('NFKC');
        expect(plain.replace(/[^\p{L}]/gu, '').length).toBeLessThanOrEqual(6);
        expect(plain.replace(/\D/g, '').length).toBeLessThanOrEqual(plain.startsWith('0 ') ? 25 : 3);
      }),
    );
  });
});
