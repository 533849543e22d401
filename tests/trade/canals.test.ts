import { describe, expect, it } from 'vitest';
import { canalLabels, canalStanding, canonicalCanal, isFilled, isSameCanal } from '../../src/trade/canals.js';
import { ALL_TEETH } from '../../src/trade/teeth.js';

describe('canal labels', () => {
  it.each(ALL_TEETH)('of %i are the same on both sides and written in their one spelling', (fdi) => {
    const { usual, variants } = canalLabels(fdi);
    const otherSide = fdi + [0, 10, -10, 10, -10, 10, -10, 10, -10][Math.floor(fdi / 10)]!;
    expect(canalLabels(otherSide)).toEqual({ usual, variants });
    expect(usual.length).toBeGreaterThan(0);
    expect(new Set([...usual, ...variants]).size).toBe(usual.length + variants.length);
    for (const label of [...usual, ...variants]) expect(canonicalCanal(fdi, label)).toBe(label);
  });

  it('of upper teeth name no lingual canal, of lower teeth no palatal one', () => {
    for (const fdi of ALL_TEETH) {
      const upper = [1, 2, 5, 6].includes(Math.floor(fdi / 10));
      const labels = [...canalLabels(fdi).usual, ...canalLabels(fdi).variants];
      expect(labels.filter((label) => label.includes(upper ? 'L' : 'P'))).toEqual([]);
    }
  });

  it('know that a middle mesial canal and a second distal one occur (J Endod 2023;49:638-656, 2022;48:223-233)', () => {
    expect(canalStanding(46, 'MM')).toBe('variant');
    expect(canalStanding(37, 'MM')).toBe('variant');
    expect(canalStanding(36, 'DL')).toBe('usual');
  });

  it('take different spellings for one canal', () => {
    expect(canonicalCanal(16, 'mb')).toBe('MB1');
    expect(canonicalCanal(46, 'mb')).toBe('MB');
    expect(canonicalCanal(14, 'MB')).toBe('MB');
    expect(canonicalCanal(16, 'L')).toBe('P');
    expect(canonicalCanal(46, 'L')).toBe('L');
    expect(canonicalCanal(46, 'Middle  mesial')).toBe('MM');
    expect(canonicalCanal(46, 'DM')).toBe('MD');
    expect(canonicalCanal(11, 'Main')).toBe('main');
    expect(canonicalCanal(11, 'single')).toBe('main');
    expect(isSameCanal(26, 'MB', 'mb1')).toBe(true);
    expect(isSameCanal(null, 'mb ', 'MB')).toBe(true);
    expect(isSameCanal(46, 'MB', 'ML')).toBe(false);
  });

  it('call only a palatal canal in a lower tooth wrong, everything else unusual at most', () => {
    expect(canalStanding(46, 'P')).toBe('wrong');
    expect(canalStanding(85, 'palatal')).toBe('wrong');
    expect(canalStanding(16, 'L')).toBe('usual');
    expect(canalStanding(16, 'ML')).toBe('unusual');
    expect(canalStanding(46, 'MB2')).toBe('unusual');
    expect(canalStanding(11, 'D')).toBe('unusual');
  });
});

describe('a filling', () => {
  it.each(['gutta-percha and sealer', 'MTA plug', 'Open apex plug'])('is recorded by "%s"', (filled) => {
    expect(isFilled({ filled })).toBe(true);
  });

  it.each([null, '', ' ', 'no', 'None', 'not filled', 'unfilled', '-'])(
    'is not recorded by "%s"',
    (filled) => {
      expect(isFilled({ filled })).toBe(false);
    },
  );
});
