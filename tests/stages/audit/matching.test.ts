import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AuditTerms, NO_TERMS } from '../../../src/stages/audit/index.js';
import { buildSearch } from '../../../src/stages/audit/search/build-search.js';
import { fileNameTerms } from '../../../src/stages/audit/search/file-name-terms.js';
import { findInBytes } from '../../../src/stages/audit/search/find-in-bytes.js';
import { findTerms } from '../../../src/stages/audit/search/find-terms.js';

const searchFor = (more: Partial<AuditTerms>) => buildSearch({ ...NO_TERMS, ...more });
const patient = (more: Partial<AuditTerms['patients'][number]>) =>
  searchFor({ patients: [{ chart: null, names: [], born: null, visitDates: [], ...more }] });

const found = (text: string, search = patient({ names: ['Rowan Testcase'] })) => findTerms(text, search);

describe('a name', () => {
  it.each([
    'ROWAN',
    'Seen by rowan.',
    "Rowan's tooth",
    'the Testcases',
    'TESTCASE^ROWAN^^Mr',
    'testcase_rowan_46.jpg',
    'RowanTestcase',
    'Rowan2',
    'Rów\u00e1n',
    'Ro\u00adwan',
    'Row\u200ban',
    '\uff32\uff4f\uff57\uff41\uff4e',
    'T e s t c a s e , R o w a n',
  ])('is found folded and as a whole word: %s', (text) => {
    expect(found(text)).toEqual(['patient-name']);
  });

  it.each(['Rowanberry', 'prowan', 'test case', 'testcasement', 'row an old tooth', ''])(
    'is not found inside another word, or in words of their own: %s',
    (text) => {
      expect(found(text)).toEqual([]);
    },
  );

  it.each([
    ['Jürgen Müller', 'Mueller'],
    ['Joergen Moeller', 'Jörgen'],
    ["Siobhán O'Brien", 'OBRIEN'],
    ['Anne-Marie Exemple', 'Annemarie'],
    ['Παύλος Δείγμα', 'ΔΕΙΓΜΑ'],
    ['Павел Пример', 'пример'],
    ['李伟', '病人李伟的牙'],
    ['Li Wei', 'WEI, LI'],
    ['Łukasz Przykład', 'Lukasz'],
  ])('%s is found as %s', (name, text) => {
    expect(found(text, patient({ names: [name] }))).toEqual(['patient-name']);
  });

  it('of fewer than four letters, or that is a word of the trade, counts only beside another term of that patient', () => {
    const search = patient({ names: ['Rose Lee White'], chart: 'B12' });
    for (const text of ['a white crown', 'in the lee of the ridge', 'the rose bur', 'size B12']) {
      expect(found(text, search)).toEqual([]);
    }
    for (const text of ['Rose White', 'White, R. Lee', 'Lee, chart B12']) {
      expect(found(text, search)).toContain('patient-name');
    }
  });

  it('is not made of the words of two patients', () => {
    const two = searchFor({
      patients: [
        { chart: null, names: ['Rose Elsewhere'], born: null, visitDates: [] },
        { chart: null, names: ['Quill White'], born: null, visitDates: [] },
      ],
    });
    expect(found('a rose white as snow', two)).toEqual([]);
  });
});

describe('a chart number', () => {
  const search = patient({ chart: 'A-20417' });
  it.each(['A-20417', 'a20417', 'A 20417', 'chart_A_20417.png', '20417', '#20417'])(
    'is found as %s',
    (text) => {
      expect(found(text, search)).toEqual(['chart-number']);
    },
  );

  it.each(['204170', 'A-2041', '20.4 17'])('is not found in %s', (text) => {
    expect(found(text, search)).toEqual([]);
  });

  it('of figures alone is no row of measurements', () => {
    expect(found('20.0 10', patient({ chart: '20010' }))).toEqual([]);
    expect(found('20010', patient({ chart: '20010' }))).toEqual(['chart-number']);
  });
});

describe('a known day', () => {
  const search = patient({ born: '1984-06-02', visitDates: ['2026-02-11'] });
  it.each([
    ['02.06.1984', 'birth-date'],
    ['2 June 1984', 'birth-date'],
    ['19840602', 'birth-date'],
    ['840602', 'birth-date'],
    ['6/2/84', 'birth-date'],
    ['11 Feb 2026', 'visit-date'],
    ['2026:02:11 09:41:03', 'visit-date'],
    ['260211', 'visit-date'],
  ])('%s is told as %s', (text, kind) => {
    expect(found(text, search)).toEqual([kind]);
  });

  it.each(['1984', '2026', '11', '26.02', '0602'])('is not seen in %s', (text) => {
    expect(found(text, search)).toEqual([]);
  });
});

describe('names of source files and folders', () => {
  it.each([
    'IMG_0412.JPG',
    'DSC00012.jpg',
    'film7.tif',
    'IMG_0414 (2).JPG',
    'films/FILM0001.JPG',
    'P1010012.JPG',
    '46.png',
    'post op periapical.png',
  ])('a counter of a camera or words of the trade are no term: %s', (file) => {
    expect(fileNameTerms(file)).toEqual([]);
  });

  it('what tells somebody apart is one', () => {
    const search = searchFor({ fileNames: ['Elsewhere Quill 46/IMG_0001.JPG', 'quillelsewhere.png'] });
    expect(found('Elsewhere, Quill', search)).toEqual(['source-name']);
    expect(found('quillelsewhere', search)).toEqual(['source-name']);
    expect(found('the quill pen', search)).toEqual([]);
  });
});

describe('strings of the source metadata', () => {
  const search = searchFor({
    strings: [
      { kind: 'other', field: 'BodySerialNumber', value: 'SN-778899-X' },
      { kind: 'free-text', field: 'ImageDescription', value: 'microscope image' },
      { kind: 'other', field: 'Owner', value: 'Example Owner' },
      { kind: 'person-name', field: 'PatientName', value: 'TESTCASE^ROWAN' },
      { kind: 'birth-date', field: 'PatientBirthDate', value: '19840602' },
    ],
  });

  it('are found as a row of words', () => {
    expect(found('body sn 778899 x', search)).toEqual(['source-metadata']);
    expect(found('of Example-Owner', search)).toEqual(['source-metadata']);
    expect(found('rowan', search)).toEqual(['patient-name']);
    expect(found('1984-06-02', search)).toEqual(['birth-date']);
  });

  it('that say nothing are none', () => {
    expect(found('A microscope image', search)).toEqual([]);
    expect(found('an example', search)).toEqual([]);
  });
});

it('lines of a list are searched for as they are, however short', () => {
  const search = searchFor({ lines: ['Lee', 'X-9', '14 Sample Street'] });
  expect(found('lee', search)).toEqual(['term']);
  expect(found('x9', search)).toEqual(['term']);
  expect(found('at 14, Sample  Street', search)).toEqual(['term']);
  expect(found('sleeve', search)).toEqual([]);
});

const wordIn = fc.stringMatching(/^[A-Za-zäöüßéñøåłčşğ]{5,12}$/);
const filler = fc.stringMatching(/^[ .,;:()\n-]{1,3}$/);

describe('for any name', () => {
  it('case, accents and what stands around it never hide it', () => {
    fc.assert(
      fc.property(wordIn, wordIn, filler, filler, fc.boolean(), (first, last, before, after, upper) => {
        const search = patient({ names: [`${first} ${last}`] });
        const shown = upper ? `${first} ${last}`.toUpperCase() : `${last}, ${first}`.normalize('NFD');
        expect(found(`x${before}${shown}${after}y`, search)).toContain('patient-name');
      }),
    );
  });

  it('letters around it make it another word', () => {
    fc.assert(
      fc.property(wordIn, (word) => {
        const plain = word.toLowerCase();
        fc.pre(!/s$/.test(plain));
        expect(found(`qx${plain}qx`, patient({ names: [plain] }))).toEqual([]);
      }),
    );
  });

  it('it is found in bytes of any coding between bytes of any value', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(/^zq[A-Za-z]{4,10}$/),
        fc.uint8Array({ maxLength: 200 }),
        fc.constantFrom('latin1', 'utf16le', 'utf16be'),
        (word, around, coding) => {
          const name = word[0]!.toUpperCase() + word.slice(1).toLowerCase();
          const bytes = Buffer.from(name, coding === 'latin1' ? 'latin1' : 'utf16le');
          if (coding === 'utf16be') bytes.swap16();
          const edge = Buffer.alloc(4);
          const file = Buffer.concat([around, edge, bytes, edge, around]);
          expect(findInBytes(file, patient({ names: [`Zz ${name}`] }))).toContain('patient-name');
        },
      ),
    );
  });

  it('nothing that is searched or searched for throws', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary' }),
        fc.array(fc.string({ unit: 'binary' })),
        fc.uint8Array({ maxLength: 500 }),
        (text, names, bytes) => {
          const search = searchFor({
            patients: [{ chart: text, names, born: text, visitDates: names }],
            strings: names.map((value) => ({ kind: 'free-text', field: 'x', value })),
            fileNames: names,
            lines: names,
            allowed: names,
          });
          findTerms(text, search);
          findInBytes(bytes, search);
        },
      ),
    );
  });
});

it('chance bytes hold no name: 30 MB of them, thirty names', () => {
  const names = Array.from(
    { length: 30 },
    (_, at) =>
      `${'bcdfghklmn'[at % 10]}${'aeiou'[at % 5]}${'lrstn'[at % 5]}${'aeo'[at % 3]}${'nkts'[at % 4]}`,
  );
  const search = patient({ names });
  let state = 7;
  const bytes = new Uint32Array(2_500_000);
  for (let round = 0; round < 3; round += 1) {
    for (let at = 0; at < bytes.length; at += 1) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      bytes[at] = state ^ (state >>> 13);
    }
    expect(findInBytes(new Uint8Array(bytes.buffer), search)).toEqual([]);
  }
});
