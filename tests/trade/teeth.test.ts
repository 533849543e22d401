import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ALL_TEETH,
  fullToothName,
  isPrimary,
  isSameTooth,
  isUpper,
  mesialSideOnFilm,
  palmerOf,
  palmerSign,
  parseTooth,
  quadrantOf,
  toothType,
  toothWords,
  universalOf,
} from '../../src/trade/teeth.js';
import { PUBLISHED } from './published-teeth.js';

const sentenceOf = (value: unknown, notation: 'fdi' | 'universal' | 'palmer' | null = null): string => {
  const result = parseTooth(value, notation);
  if (result.ok) throw new Error('expected a refusal');
  return result.sentence;
};

/** "Permanent maxillary right first molar" -> "upper right first molar", the project's own wording. */
function inOurWords(name: string): string {
  const [dentition, jaw, side, ...type] = name.split(' ');
  const words = type.join(' ');
  const where = `${jaw === 'maxillary' ? 'upper' : 'lower'} ${side}`;
  if (dentition === 'Permanent') return `${where} ${words}`;
  return words.endsWith('molar')
    ? `${where} ${words.replace('molar', 'primary molar')}`
    : `${where} primary ${words}`;
}

describe('the 52 teeth against the published mapping', () => {
  it('has exactly the published teeth', () => {
    expect(PUBLISHED).toHaveLength(52);
    expect([...ALL_TEETH].sort()).toEqual(PUBLISHED.map(([iso]) => iso).sort());
  });

  it.each(PUBLISHED)('names ISO %i as published (%s, %s, %s, %s)', (iso, universal, sign, text, name) => {
    expect(universalOf(iso)).toBe(universal);
    expect(palmerSign(iso)).toBe(sign);
    expect(palmerOf(iso)).toBe(text);
    expect(toothWords(iso)).toBe(inOurWords(name));
    expect(isPrimary(iso)).toBe(name.startsWith('Deciduous'));
    expect(isUpper(iso)).toBe(name.includes('maxillary'));
    expect(name).toContain(toothType(iso));
    expect([1, 4].includes(quadrantOf(iso))).toBe(name.includes('right'));
  });

  it.each(PUBLISHED)('reads ISO %i back from every notation', (iso, universal, sign, text) => {
    const tooth = { ok: true, tooth: { fdi: iso } };
    for (const value of [iso, String(iso)]) expect(parseTooth({ fdi: value }, null)).toEqual(tooth);
    expect(parseTooth({ universal }, null)).toEqual(tooth);
    if (/\d/.test(universal)) expect(parseTooth({ universal: Number(universal) }, null)).toEqual(tooth);
    expect(parseTooth({ palmer: sign }, null)).toEqual(tooth);
    expect(parseTooth({ palmer: text.toLowerCase() }, null)).toEqual(tooth);
    expect(parseTooth({ fdi: iso, universal, palmer: text }, null)).toEqual(tooth);
    expect(parseTooth(iso, 'fdi')).toEqual(tooth);
    expect(parseTooth(universal, 'universal')).toEqual(tooth);
    expect(parseTooth(text, 'palmer')).toEqual(tooth);
  });
});

describe('teeth that do not exist', () => {
  it.each([9, 10, 19, 20, 29, 30, 49, 50, 56, 66, 86, 90, 0, '00', '09', 4.6, -46, 461])(
    'refuses FDI %s',
    (value) => {
      expect(sentenceOf({ fdi: value })).toContain('no tooth in FDI');
    },
  );

  it.each([0, 33, 'U', 'AA', 51, 82, '', 1.5])('refuses Universal %s', (value) => {
    expect(sentenceOf({ universal: value })).toContain('no tooth in Universal');
  });

  it.each(['UR9', 'UR0', 'LRF', 'XR6', '6', 6, '┐6'])('refuses Palmer %s', (value) => {
    expect(sentenceOf({ palmer: value })).toContain('no tooth in Palmer');
  });

  it('says why', () => {
    expect(sentenceOf({ fdi: 49 })).toBe(
      '49 is no tooth in FDI: the second digit runs 1-8 in the permanent quadrants 1-4.',
    );
    expect(sentenceOf({ fdi: 56 })).toBe(
      '56 is no tooth in FDI: the second digit runs 1-5 in the primary quadrants 5-8.',
    );
    expect(sentenceOf({ universal: 82 })).toContain('mark supernumerary teeth');
  });

  it('offers the other system when the number exists there', () => {
    expect(sentenceOf({ fdi: 30 })).toContain(
      'Universal 30 is the lower right first molar: did you mean {universal: 30}?',
    );
    expect(sentenceOf({ universal: 46 })).toContain(
      'FDI 46 is the lower right first molar: did you mean {fdi: 46}?',
    );
    expect(sentenceOf({ fdi: 'lr6' })).toContain('did you mean {palmer: LR6}?');
  });

  it('refuses a bare number and names both readings', () => {
    const sentence = sentenceOf(26);
    expect(sentence).toContain('upper left first molar (FDI 26)');
    expect(sentence).toContain('lower right lateral incisor (Universal 26)');
    expect(parseTooth(46, null)).toMatchObject({ ok: false, allowed: ['{fdi: 46}'] });
  });

  it('refuses two keys that are different teeth, and names both', () => {
    expect(sentenceOf({ fdi: 46, universal: 29 })).toBe(
      'FDI 46 is the lower right first molar, but Universal 29 is the lower right second premolar. Keep the one that is meant.',
    );
  });

  it.each([null, undefined, [], [46], true, {}, { tooth: 46 }, { fdi: 46, note: 'x' }, { fdi: null }])(
    'refuses %j with a sentence',
    (value) => {
      expect(sentenceOf(value).length).toBeGreaterThan(20);
    },
  );

  it('never quotes words that may name a person', () => {
    for (const key of ['fdi', 'universal', 'palmer', 'nick']) {
      expect(sentenceOf({ [key]: 'Rowan Testcase' }).toLowerCase()).not.toContain('rowan');
    }
    expect(sentenceOf('Rowan Testcase').toLowerCase()).not.toContain('rowan');
  });

  it('never throws, and accepts only one of the 52', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.anything(), fc.record({ fdi: fc.integer({ min: -200, max: 200 }) })),
        fc.constantFrom('fdi', 'universal', 'palmer', null),
        (value, notation) => {
          const result = parseTooth(value, notation);
          if (result.ok && 'fdi' in result.tooth) expect(ALL_TEETH).toContain(result.tooth.fdi);
          if (!result.ok) expect(result.sentence).not.toBe('');
        },
      ),
    );
  });
});

describe('words for a tooth', () => {
  it('prints words and two notations', () => {
    expect(fullToothName({ fdi: 46 })).toBe('lower right first molar, FDI 46, Universal 30');
    expect(fullToothName({ fdi: 85 })).toBe('lower right second primary molar, FDI 85, Universal T');
    expect(fullToothName({ fdi: 61 })).toBe('upper left primary central incisor, FDI 61, Universal F');
    expect(fullToothName({ supernumerary: 'near 21' })).toBe('supernumerary tooth, near 21');
  });

  it('keeps a supernumerary tooth by its words', () => {
    expect(parseTooth({ supernumerary: '  near   21 ' }, null)).toEqual({
      ok: true,
      tooth: { supernumerary: 'near 21' },
    });
    expect(sentenceOf({ supernumerary: '' })).toContain('near 21');
    expect(sentenceOf({ supernumerary: 'x'.repeat(81) })).toContain('80');
    expect(sentenceOf({ supernumerary: 'near 21', fdi: 21 })).toContain('no number');
  });

  it('tells whether two teeth are the same', () => {
    expect(isSameTooth({ fdi: 46 }, { fdi: 46 })).toBe(true);
    expect(isSameTooth({ fdi: 46 }, { fdi: 36 })).toBe(false);
    expect(isSameTooth({ supernumerary: 'near 21' }, { supernumerary: 'Near 21 ' })).toBe(true);
    expect(isSameTooth({ supernumerary: 'near 21' }, { fdi: 21 })).toBe(false);
  });

  it("puts mesial on the film's right for the patient's right side", () => {
    expect([16, 26, 36, 46, 55, 65, 75, 85].map(mesialSideOnFilm)).toEqual([
      'right',
      'left',
      'left',
      'right',
      'right',
      'left',
      'left',
      'right',
    ]);
  });
});
