import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editDistance, nearest } from '../../src/core/edit-distance.js';
import { fold, spellings } from '../../src/core/fold.js';

describe('fold', () => {
  it('takes off accents in Latin, Greek and Cyrillic, and changes nothing the second time', () => {
    expect(fold('Ångström')).toBe('angstrom');
    expect(fold('ΠΑΠΑΔΌΠΟΥΛΟΣ')).toBe(fold('παπαδόπουλος'));
    expect(fold('Ёлкин')).toBe(fold('елкин'));
    expect(fold('ＦＵＬＬ')).toBe('full');
    expect(fold('Ro\u00ADw\u200Ban')).toBe('rowan');
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => fold(fold(text)) === fold(text)),
      { numRuns: 2000 },
    );
  });

  it('is the same for composed and decomposed text', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme' }),
        (text) => fold(text.normalize('NFC')) === fold(text.normalize('NFD')),
      ),
    );
  });

  // Unicode 15 CaseFolding.txt, status F: U+00DF -> "ss", U+1E9E -> "ss"
  it('folds sharp s as the Unicode case folding table does', () => {
    expect(fold('Weiß')).toBe('weiss');
    expect(fold('WEIẞ')).toBe('weiss');
  });

  it('knows the written-out forms of German and Nordic names both ways', () => {
    expect(spellings('Müller').some((one) => spellings('Mueller').includes(one))).toBe(true);
    expect(spellings('Åse')).toContain('aase');
  });
});

describe('editDistance', () => {
  it('is symmetric, zero only for equal words, and one for one slip', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 8 });
    fc.assert(fc.property(word, word, (a, b) => editDistance(a, b) === editDistance(b, a)));
    fc.assert(fc.property(word, word, (a, b) => (editDistance(a, b) === 0) === (a === b)));
    expect([
      editDistance('acess', 'access'),
      editDistance('smtih', 'smith'),
      editDistance('', 'abc'),
    ]).toEqual([1, 1, 3]);
  });

  it('suggests the near word and none that is far', () => {
    expect(nearest('acess', ['tests', 'access', 'core'])).toBe('access');
    expect(nearest('xyz', ['tests', 'access', 'core'])).toBeNull();
    expect(nearest('', ['tests'])).toBeNull();
  });
});
