import type { AuditTerms } from '../../../../src/stages/audit/index.js';
import { NO_TERMS } from '../../../../src/stages/audit/index.js';
import type { CaseRecord, PictureRecord } from '../../../../src/trade/case-record.js';
import { STAGES } from '../../../../src/trade/stages.js';
import { canal, course, picture, record } from '../../sheet/given/records.js';

/** Invented people, some with names that are words of the trade or of every day. */
const PEOPLE: { names: string[]; chart: string; born: string }[] = [
  { names: ['Rowan Testcase'], chart: 'A-20417', born: '1984-06-02' },
  { names: ['Rose White'], chart: '1046', born: '1951-11-30' },
  { names: ['Mark Crown'], chart: 'MB2-30', born: '2001-01-04' },
  { names: ['Li Wei'], chart: '46', born: '1999-12-12' },
  { names: ['Jürgen Müller-Beispiel'], chart: '00482913', born: '1937-03-09' },
  { names: ['Page Root'], chart: 'P-25', born: '1966-08-21' },
  { names: ['Quill Elsewhere', 'Quill Sample'], chart: '2026-114', born: '2010-05-17' },
  { names: ['Παύλος Δείγμα'], chart: 'GR-5521', born: '1972-10-01' },
  { names: ['May Bridge'], chart: '30/04', born: '1988-02-29' },
  { names: ['Anne-Marie O’Exemple'], chart: 'AMO1', born: '1945-07-07' },
];

const LETTERHEADS: string[][] = [
  [],
  ['Dr Quill Sample, Endodontics', '1 Sample Street, 12345 Anytown', 'Tel +44 20 7946 0999'],
  ['Example Endodontics', 'practice@mail.example', 'www.endo.example'],
  ['Praxis Dr. med. dent. Beispiel', 'Musterweg 7, 10115 Musterstadt', 'Telefon 030 555 01 23'],
];

const CAPTIONS = [
  'Middle mesial orifice between MB and ML',
  'Distal caries under the old filling, open margin',
  'MB2 found 1.8 mm palatal of MB1, negotiated to 20.5 mm',
  'Obturated to 0.5 mm short of the apex; size 30/.04',
  'Crack line on the distal wall, 3 mm long, ends above the floor',
  'Isthmus cleaned with ultrasonics, x16',
  'Recall at 12 months: lesion smaller',
  'Calcium hydroxide placed; glass ionomer 3.5 mm',
  'ISO 25, then 30 and 35; 40 binds at 19 mm',
  'White line points to the MB2; rose bur used',
  'Root-end cavity 3 mm deep, bevel 0 degrees',
  'Radix entolingualis: DL canal at 18.25 mm',
];

const FILES = [
  'IMG_0412.JPG',
  'DSC00012.JPG',
  'film7.tif',
  'P1010012.JPG',
  'FILM0001.JPG',
  'pre op 46.png',
  'crack.jpg',
];

const at = <T>(list: readonly T[], number: number): T => list[number % list.length] as T;

function pictures(seed: number): PictureRecord[] {
  const bands = ['before', 'during', 'after'] as const;
  return Array.from({ length: 2 + (seed % 5) }, (_, index) => {
    const band = at(bands, index + seed);
    const film = (seed + index) % 3 === 0;
    return picture(index + 1, {
      band,
      stage: at(STAGES[band], seed * 3 + index),
      view: film ? 'periapical' : 'microscope',
      caption: (seed + index) % 4 === 0 ? null : at(CAPTIONS, seed * 5 + index),
      visit: 1 + (index % 2),
      magnification: film ? null : at([4, 6.4, 10, 16, 24], seed + index),
      flipped: index % 2 === 1,
      covered: (seed + index) % 7 === 0 ? 1 : 0,
      scale: film && seed % 2 === 0 ? { mmPerPxX: 0.025, mmPerPxY: 0.025, source: 'receptor' } : null,
    });
  });
}

const TEETH: CaseRecord['tooth'][] = [11, 16, 24, 26, 35, 36, 46, 47, 75].map((fdi) => ({ fdi }));
const LABELS = ['MB', 'MB1', 'MB2', 'DB', 'P', 'ML', 'D', 'DL', 'MM'];

/** A case with nothing in it that identifies, and the terms of the person it is about. */
export function cleanCase(seed: number): { record: CaseRecord; settings: object; terms: AuditTerms } {
  const person = at(PEOPLE, seed);
  const letterhead = at(LETTERHEADS, seed + Math.floor(seed / 10));
  const canals = Array.from({ length: 1 + (seed % 4) }, (_, index) =>
    canal(at(LABELS, seed + index), {
      length: 17 + ((seed * 7 + index * 3) % 28) / 4,
      size: at([20, 25, 30, 35, 40], seed + index),
      taper: at([0.02, 0.04, 0.06], seed + index),
      note: seed % 3 === 0 ? 'patent; curved 30 degrees in the last 4 mm' : null,
    }),
  );
  const made = record(pictures(seed), {
    kind: at(['root-canal-treatment', 'retreatment', 'root-end-surgery'] as const, seed),
    canals,
    visits: [
      { visit: 1, day: 0, year: 2026, state: 'interim', revision: 1 },
      { visit: 2, day: 7 + seed, year: 2026, state: 'finished', revision: 1 },
    ],
    handoff: { ...course().handoff, recall: at(['we recall at 12 months', 'in one year', null], seed) },
  });
  const terms = {
    ...NO_TERMS,
    patients: [{ ...person, visitDates: ['2026-02-11', '2026-02-25'] }],
    fileNames: [...FILES.slice(0, 6), '2026-02-11 room 2', `${person.names[0]} 2026-02-11`],
    strings: [
      { kind: 'other' as const, field: 'Make', value: 'Drawn' },
      { kind: 'other' as const, field: 'Model', value: 'Scope' },
      { kind: 'other' as const, field: 'BodySerialNumber', value: 'SN-778899-X' },
      { kind: 'free-text' as const, field: 'ImageDescription', value: 'microscope image' },
      { kind: 'person-name' as const, field: 'PatientName', value: person.names[0]!.toUpperCase() },
    ],
    allowed: [...letterhead, '9VTC4H'],
  };
  return {
    record: { ...made, tooth: at(TEETH, seed) },
    settings: { letterhead, paper: seed % 2 === 0 ? 'A4' : 'Letter' },
    terms,
  };
}
