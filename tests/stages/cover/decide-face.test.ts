import { describe, expect, it } from 'vitest';
import { decideFace } from '../../../src/stages/cover/index.js';
import type { Answer } from '../../../src/trade/visit-document.js';

const FACE = { box: [10, 10, 50, 60] as [number, number, number, number], score: 0.9 };
const answer = (some: Partial<Answer>): Answer => ({
  code: 'face',
  file: null,
  by: 'AB',
  why: 'portrait before treatment',
  audience: [],
  ...some,
});
const ask = (answers: Answer[], view: 'extraoral' | 'microscope' = 'microscope', faces = [FACE]) =>
  decideFace({ view, faces, answers, file: 'IMG_1.JPG' });

describe('a picture with a face', () => {
  it('that is neither listed as extraoral nor shows one is clear', () => {
    expect(ask([], 'microscope', [])).toEqual({ kind: 'clear' });
  });

  it('waits for a person, and so does every extraoral one', () => {
    expect(ask([])).toEqual({ kind: 'held', reason: { code: 'face', because: 'found' } });
    expect(ask([], 'extraoral', [])).toEqual({
      kind: 'held',
      reason: { code: 'face', because: 'extraoral' },
    });
  });

  it.each([
    ['nobody signed', answer({ by: null })],
    ['signed with a blank', answer({ by: '  ' })],
    ['that speaks of another matter', answer({ code: 'other-patient' })],
    ['that speaks of another file', answer({ file: 'IMG_2.JPG' })],
  ])('is not settled by an answer %s', (_, one) => {
    expect(ask([one]).kind).toBe('held');
  });

  it('then serves the private record only', () => {
    expect(ask([answer({})])).toEqual({ kind: 'limited', audiences: [] });
    expect(ask([answer({ file: 'img_1.jpg' })], 'extraoral', [])).toEqual({ kind: 'limited', audiences: [] });
  });

  it('serves the audiences that a person names for it', () => {
    const file = 'IMG_1.JPG';
    expect(ask([answer({ file, audience: ['teaching', 'referrer', 'teaching'] })])).toEqual({
      kind: 'limited',
      audiences: ['referrer', 'teaching'],
    });
  });

  it('follows the answer for itself before one for all, in whatever order', () => {
    const both = [answer({ audience: ['teaching'] }), answer({ file: 'IMG_1.JPG', audience: ['referrer'] })];
    for (const answers of [both, both.toReversed()]) {
      expect(ask(answers)).toEqual({ kind: 'limited', audiences: ['referrer'] });
    }
  });

  it('serves only what all answers allow when two differ', () => {
    const file = 'IMG_1.JPG';
    const two = [
      answer({ file, audience: ['teaching', 'referrer'] }),
      answer({ file, audience: ['referrer'] }),
    ];
    expect(ask(two)).toEqual({ kind: 'limited', audiences: ['referrer'] });
  });

  it('is let out to nobody by an answer that names no file, since that would speak for later pictures too', () => {
    expect(ask([answer({ audience: ['teaching'] })])).toEqual({ kind: 'limited', audiences: [] });
  });
});
