import fc from 'fast-check';
import type { CaseRecord, PictureRecord } from '../../../../src/trade/case-record.js';
import { STAGES } from '../../../../src/trade/stages.js';
import { VIEWS } from '../../../../src/trade/views.js';
import { canal, course, picture } from './records.js';

const letters = fc.constantFrom(
  ...'abcdefghij klmnop qrstuv wxyz ABC 0123 .,;()- éőșßøł ΑΒΓαβγ ЖИКжик \u00a0µ×–'.split(''),
);
const words = (maxLength: number) => fc.string({ unit: letters, maxLength });
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null });

const bandAndStage = fc
  .constantFrom('before' as const, 'during' as const, 'after' as const)
  .chain((band) => fc.record({ band: fc.constant(band), stage: fc.constantFrom(...STAGES[band]) }));

const anyPicture: fc.Arbitrary<Partial<PictureRecord>> = fc
  .record({
    view: fc.constantFrom(...VIEWS),
    visit: fc.integer({ min: 1, max: 3 }),
    caption: maybe(words(400)),
    widthPx: fc.integer({ min: 40, max: 6000 }),
    heightPx: fc.integer({ min: 40, max: 6000 }),
    covered: fc.integer({ min: 0, max: 2 }),
    flipped: fc.boolean(),
    magnification: maybe(fc.constantFrom(2.5, 4, 10, 24)),
    scale: maybe(
      fc
        .double({ min: 0.001, max: 0.3, noNaN: true })
        .map((mm) => ({ mmPerPxX: mm, mmPerPxY: mm, source: 'receptor' })),
    ),
    place: bandAndStage,
  })
  .map(({ place, ...rest }) => ({ ...rest, ...place }));

const anyCanal = fc.record({
  length: maybe(fc.double({ min: 5, max: 30, noNaN: true }).map((mm) => Math.round(mm * 4) / 4)),
  reference: maybe(words(60)),
  filled: maybe(words(120)),
  note: maybe(words(200)),
});

/** Cases of 0 to 30 pictures with words of any length in several scripts. */
export const anyRecord: fc.Arbitrary<CaseRecord> = fc
  .record({
    pictures: fc.array(anyPicture, { maxLength: 30 }),
    canals: fc.array(anyCanal, { maxLength: 5 }),
    state: fc.constantFrom('finished', 'interim', 'emergency', 'interrupted', 'consultation', null),
    handoff: fc.record({
      restorer: maybe(words(80)),
      caries: maybe(words(300)),
      barrier: maybe(words(80)),
      chamber: maybe(words(600)),
      advise: maybe(words(400)),
      by: maybe(words(30)),
      next: maybe(words(300)),
      mishaps: fc.array(words(300), { maxLength: 4 }),
      recall: maybe(words(200)),
    }),
    fdi: fc.constantFrom(11, 26, 34, 46, 75),
  })
  .map(({ pictures, canals, state, handoff, fdi }) => ({
    schema: 1,
    case: 'K7QD2M',
    tooth: { fdi },
    courses: [
      course({
        canals: canals.map((more, at) => canal(['MB', 'ML', 'D', 'MM', 'P'][at] as string, more)),
        handoff: { ...course().handoff, ...handoff },
        visits: [1, 2, 3].map((visit) => ({ visit, day: (visit - 1) * 14, year: 2026, state, revision: 1 })),
      }),
    ],
    pictures: pictures.map((more, at) => picture(at + 1, more)),
  }));
