import { beforeAll, describe, expect, it } from 'vitest';
import type { IdentifyingString, PictureFacts } from '../../../src/core/picture-facts.js';
import type { FoundText, TextFinder } from '../../../src/finders/finder.js';
import { openTextFinder } from '../../../src/finders/text/index.js';
import { guard, guardTexts } from '../../../src/stages/guard/index.js';
import { loadTextModels } from '../../../src/workers/load-models.js';
import { ground, print } from '../../finders/text/drawn-text.js';
import {
  type Invented,
  inventOther,
  inventPerson,
  OVERLAYS,
  patientOf,
  SPELLINGS,
} from './invented-visits.js';

const VISITS = Array.from({ length: 40 }, (_, at) => {
  const person = inventPerson(at);
  return { at, person, other: inventOther(person, 1000 + at * 7) };
});

const metadata = (patient: Invented, identifying: IdentifyingString[]) => {
  const facts: PictureFacts = {
    format: 'JPEG',
    widthPx: 10,
    heightPx: 10,
    orientation: 1,
    bitsPerChannel: 8,
    grey: false,
    takenAt: null,
    device: null,
    source: null,
    carriers: {},
    identifying,
    notes: [],
  };
  return guard({
    patient: patientOf(patient),
    visitDate: null,
    pictures: [{ name: 'a.jpg', facts }],
    filedUnderAnother: [],
    offsetsSeconds: {},
    answers: [],
  });
};

/** What metadata say of a person, each visit in another way. */
function saidOf(person: Invented, at: number): IdentifyingString[] {
  const name = SPELLINGS[at % SPELLINGS.length]!(person);
  const kinds: IdentifyingString[] = [
    { kind: 'person-name', field: 'PatientName', value: name },
    {
      kind: 'person-id',
      field: 'PatientID',
      value: at % 2 === 0 ? person.chart : person.chart.replace('-', ''),
    },
    { kind: 'birth-date', field: 'PatientBirthDate', value: person.born.replaceAll('-', '') },
    { kind: 'free-text', field: 'ImageDescription', value: `Patient: ${name}` },
  ];
  return at % 5 === 4 ? kinds : [kinds[at % 5]!];
}

const lines = (said: readonly string[]): FoundText[] =>
  said.map((text, at) => ({
    box: [20, 20 + at * 26, text.length * 12 + 40, 24],
    text,
    confidence: 0.93,
    score: 0.95,
    by: 'net',
  }));

const pixels = (person: Invented, texts: readonly FoundText[]) =>
  guardTexts({ patient: patientOf(person), pictures: [{ name: 'a.jpg', texts }], answers: [] });

describe('forty visits', () => {
  it('with another person in the metadata are all held', () => {
    const missed = VISITS.filter(({ at, person, other }) => metadata(person, saidOf(other, at)) === null);
    expect(missed.map(({ at }) => at)).toEqual([]);
  });

  it('with their own patient in the metadata, however spelt, are none held', () => {
    for (const way of SPELLINGS.keys()) {
      const wrong = VISITS.filter(({ at, person }) => metadata(person, saidOf(person, at + way)) !== null);
      expect(wrong.map(({ at }) => at)).toEqual([]);
    }
  });

  it('with another person in the pixels are all held, in each way a device prints one', () => {
    for (const overlay of OVERLAYS) {
      const missed = VISITS.filter(({ person, other }) => pixels(person, lines(overlay(other))) === null);
      expect(missed.map(({ at }) => at)).toEqual([]);
    }
  });

  it('with their own patient in the pixels are none held, in each of those ways and spellings', () => {
    for (const overlay of OVERLAYS) {
      const wrong = VISITS.filter(({ person }) => pixels(person, lines(overlay(person))) !== null);
      expect(wrong.map(({ at }) => at)).toEqual([]);
    }
    for (const spelling of SPELLINGS) {
      const wrong = VISITS.filter(
        ({ person }) => pixels(person, lines([`Patient: ${spelling(person)}`])) !== null,
      );
      expect(wrong.map(({ at }) => at)).toEqual([]);
    }
  });
});

describe('names printed into pictures and read by the finder', () => {
  let finder: TextFinder;
  beforeAll(async () => {
    finder = await openTextFinder(await loadTextModels(), { threads: 2 });
  });

  const WHITE = [255, 255, 255] as const;
  async function readBack(said: readonly string[]): Promise<FoundText[]> {
    const picture = ground(440, 150, 30);
    for (const [at, text] of said.entries()) {
      await print(picture, { text, capitalPx: 13, at: [0.05, 0.2 + at * 0.25], colour: WHITE });
    }
    return finder.find(picture);
  }

  const SHOWN = VISITS.slice(0, 2 * OVERLAYS.length);

  it('hold the visit of somebody else and let that of the patient pass', async () => {
    const missed: number[] = [];
    const wrong: number[] = [];
    for (const { at, person, other } of SHOWN) {
      const texts = await readBack(OVERLAYS[at % OVERLAYS.length]!(other));
      if (pixels(person, texts) === null) missed.push(at);
      // the same reading is that of the right patient too
      if (pixels(other, texts) !== null) wrong.push(at);
    }
    expect({ missed, wrong }).toEqual({ missed: [], wrong: [] });
  }, 60_000);
});
