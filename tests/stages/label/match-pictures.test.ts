import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matchPictures } from '../../../src/stages/label/index.js';
import { documentsOf } from './sidecar-text.js';

const listing = (...files: string[]) =>
  documentsOf(
    `tooth: {fdi: 46}\nimages: [${files.map((file) => `{file: ${JSON.stringify(file)}, stage: core, view: intraoral}`).join(', ')}]`,
  );

describe('matching pictures to entries', () => {
  it('is blind to capitals, to composed or decomposed accents, and to the kind of slash', () => {
    const match = matchPictures(listing('img_1.jpg', 'caf\u00e9.JPG', 'sub\\b.jpg'), [
      'IMG_1.JPG',
      'cafe\u0301.jpg',
      'Sub/B.jpg',
    ]);
    expect([...match.documents[0]!.labels.keys()]).toEqual(['IMG_1.JPG', 'cafe\u0301.jpg', 'Sub/B.jpg']);
    expect([match.unlabelled, match.documents[0]?.absent]).toEqual([[], []]);
  });

  it('takes a base name when only one picture has it', () => {
    expect(matchPictures(listing('a.jpg'), ['x/a.jpg']).documents[0]?.labels.has('x/a.jpg')).toBe(true);
    const two = matchPictures(listing('a.jpg'), ['x/a.jpg', 'y/a.jpg']);
    expect([two.documents[0]?.absent, two.unlabelled]).toEqual([
      [{ file: 'a.jpg', line: 2 }],
      ['x/a.jpg', 'y/a.jpg'],
    ]);
  });

  it('tells two names with one key', () => {
    expect(matchPictures(listing('a.jpg'), ['a.jpg', 'A.jpg', 'b.jpg'])).toMatchObject({
      collisions: [['a.jpg', 'A.jpg']],
      unlabelled: ['b.jpg'],
    });
  });

  it('knows the picture of a faulty entry, and never calls it unlabelled', () => {
    const documents = documentsOf(
      'tooth: {fdi: 46}\nimages:\n  - {file: a.jpg, stage: acess, view: intraoral}\n  - {file: gone.jpg, stage: x}\n',
    );
    const match = matchPictures(documents, ['A.JPG', 'b.jpg']);
    expect(match.documents[0]?.held).toEqual(new Map([['A.JPG', ['stage']]]));
    expect(match.documents[0]?.absent).toEqual([{ file: 'gone.jpg', line: 4 }]);
    expect(match.unlabelled).toEqual(['b.jpg']);
  });

  it('lets two documents list one picture', () => {
    const documents = documentsOf(
      'tooth: {fdi: 46}\nimages: [{file: a.jpg, stage: core, view: bitewing}]\n---\ntooth: {fdi: 47}\nimages: [{file: a.jpg, stage: core, view: bitewing}]\n',
    );
    expect(matchPictures(documents, ['a.jpg']).documents.map(({ labels }) => labels.size)).toEqual([1, 1]);
  });

  it('loses no picture: each is labelled, held, colliding or unlabelled', () => {
    const name = fc.stringMatching(/^[abAB]{1,2}(\/[ab])?$/);
    fc.assert(
      fc.property(
        fc.uniqueArray(name, { maxLength: 4, selector: (one) => one.toLowerCase() }),
        fc.uniqueArray(name, { maxLength: 6 }),
        (listed, names) => {
          const match = matchPictures(listing(...listed), names);
          const seen = new Set([
            ...match.documents.flatMap(({ labels, held }) => [...labels.keys(), ...held.keys()]),
            ...match.collisions.flat(),
            ...match.unlabelled,
          ]);
          expect(names.filter((one) => !seen.has(one))).toEqual([]);
        },
      ),
    );
  });
});
