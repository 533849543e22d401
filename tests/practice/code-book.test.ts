import { describe, expect, it } from 'vitest';
import { isCode } from '../../src/core/code.js';
import {
  addCaseCode,
  codesInUse,
  emptyCodeBook,
  loadCodes,
  saveCodes,
  shareCodeFor,
} from '../../src/practice/index.js';
import { freshPractice, keptValue } from './scratch.js';

/** The same bytes again and again, then counting on: what a code drawn twice looks like. */
const countingRandom = () => {
  let calls = 0;
  return (count: number): Uint8Array => new Uint8Array(count).fill(Math.floor(calls++ / 2) % 32);
};

describe('the code book', () => {
  it('draws a code nobody has, of cases and shares together', () => {
    const random = countingRandom();
    const first = addCaseCode(emptyCodeBook(), random);
    const second = addCaseCode(first.book, random, ['222222']);
    const share = shareCodeFor(second.book, second.code, 'referrer', random, ['222222']);
    expect([first.code, second.code, share.shareCode]).toEqual(['000000', '111111', '333333']);
    expect(codesInUse(share.book).size).toBe(3);
    expect([...codesInUse(share.book)].every(isCode)).toBe(true);
  });

  it('keeps one share code per case and audience, and comes back as saved', async () => {
    const practice = await freshPractice();
    const random = countingRandom();
    const { book, code } = addCaseCode(emptyCodeBook(), random);
    const one = shareCodeFor(book, code, 'referrer', random);
    const again = shareCodeFor(one.book, code, 'referrer', random);
    const other = shareCodeFor(again.book, code, '__proto__', random);
    expect(again).toEqual(one);
    expect(other.shareCode).not.toBe(one.shareCode);
    keptValue(await saveCodes(practice, other.book));
    const loaded = keptValue(await loadCodes(practice));
    expect(shareCodeFor(loaded, code, 'referrer', random).shareCode).toBe(one.shareCode);
    expect(shareCodeFor(loaded, code, '__proto__', random).shareCode).toBe(other.shareCode);
  });

  it('does not go on for ever when the randomness repeats itself', () => {
    const stuck = (count: number) => new Uint8Array(count);
    const { book } = addCaseCode(emptyCodeBook(), stuck);
    expect(() => addCaseCode(book, stuck)).toThrow('randomness');
  });
});
