import { describe, expect, it } from 'vitest';
import { dicomLeftovers } from '../../../../src/formats/dicom/leftovers/index.js';
import { copyOf, holds, opened, textIn } from './copies.js';
import { CLASS, changed, radiograph, rampPixels, signedPixels, slice } from './drawn-objects.js';
import { PROFILE, type ProfileRow } from './profile-table.js';
import { at, BIG, EXPLICIT, fileOf, IMPLICIT, type Planted, type Writing } from './source-object.js';

/** A value of the row's VR that nothing else in a file has; `texts`: how it would show if it survived. */
interface Marker {
  value: string | Uint8Array | number[] | Planted[][];
  texts: string[];
}

const two = (number: number): string => String(number).padStart(2, '0');

/** @param number unlike for every place a value is planted at */
function markerOf(vr: string, number: number): Marker {
  const plain = (text: string): Marker => ({ value: text, texts: [text] });
  const day = new Date(Date.UTC(1801, 0, 1) + number * 86_400_000)
    .toISOString()
    .slice(0, 10)
    .replaceAll('-', '');
  const time = `${two(number % 24)}${two(number % 60)}${two(number % 59)}.${String(number).padStart(6, '0')}`;
  switch (vr) {
    case 'DA':
      return plain(day);
    case 'TM':
      return plain(time);
    case 'DT':
      return plain(`${day}${time}`);
    case 'UI':
      return plain(`1.2.826.0.1.${700_000 + number}.3`);
    case 'IS':
    case 'DS':
      return plain(`-7${String(number).padStart(6, '0')}`);
    case 'AS':
      return { value: `${String(100 + (number % 900))}Y`, texts: [`${String(100 + (number % 900))}Y`] };
    case 'US':
      return { value: [0xe000 + (number % 0x1000), 0xd1d2], texts: ['\xd2\xd1', '\xd1\xd2'] };
    case 'SQ':
      return {
        value: [[at(0x00080104, 'LO', `Within ${number}Q`), at(0x00100010, 'PN', `Nested^${number}Q`)]],
        texts: [`Within ${number}Q`, `Nested^${number}Q`],
      };
    case 'OB':
    case 'OW':
    case 'UN': {
      const text = `Bytes ${number}Q`;
      return { value: Buffer.concat([Buffer.from(text), Buffer.from(text, 'utf16le')]), texts: [text] };
    }
    case 'AE':
    case 'SH':
    case 'CS':
      return plain(`QUILL${number}X`);
    default:
      return plain(`Rowän Testcase ${number}Q`);
  }
}

/** A tag that a row stands for: those with x, and private ones, by an example. */
function tagOf({ tag }: ProfileRow): number {
  if (tag === 'private') return 0x00091001;
  return Number.parseInt(tag.replaceAll('x', '0'), 16);
}

interface PlantedRow {
  row: ProfileRow;
  element: Planted;
  texts: string[];
}

function plant(from: number): PlantedRow[] {
  return PROFILE.map((row, index) => {
    const { value, texts } = markerOf(row.vr, from + index);
    return { row, element: at(tagOf(row), row.vr, value), texts };
  });
}

const META = new Set([0x00020003]);
const inDataSet = (rows: readonly PlantedRow[]): Planted[] =>
  rows.filter(({ element }) => !META.has(element.tag)).map(({ element }) => element);

/** The rows as an item three sequences deep, under tags of which none, some or all stay in a copy. */
function nest(path: readonly number[], rows: readonly PlantedRow[], vr: string, open: boolean): Planted {
  const [first, ...rest] = path as [number, ...number[]];
  const inside = rest.length === 0 ? inDataSet(rows) : [...known(first), nest(rest, rows, 'SQ', open)];
  return at(first, vr, [inside], open);
}

/** What makes an item one that stays, so that the search goes on into it. */
function known(tag: number): Planted[] {
  const codes: Record<number, [string, string]> = { 533016: ['661005', 'SCT'], 533032: ['T-54230', 'SRT'] };
  const code = codes[tag];
  return code ? [at(0x00080100, 'SH', code[0]), at(0x00080102, 'SH', code[1])] : [];
}

const KEPT_PATH = [0x00082218, 0x00082220, 0x00082228];
const TABLE_PATH = [0x00283010, 0x00283010, 0x00283010];
const UNKNOWN_PATH = [0x00400275, 0x00081140, 0x0040a730];

describe('table E.1-1 of PS3.15', () => {
  it('is read whole', () => {
    const counts: Record<string, number> = {};
    for (const { action } of PROFILE) counts[action] = (counts[action] ?? 0) + 1;
    expect(PROFILE).toHaveLength(623);
    expect(new Set(PROFILE.map(({ tag }) => tag)).size).toBe(623);
    expect(counts).toEqual({
      X: 385,
      D: 92,
      U: 55,
      Z: 42,
      'X/D': 22,
      'X/Z': 11,
      'X/Z/D': 8,
      'Z/D': 6,
      'X/Z/U*': 2,
    });
  });
});

describe('a copy of an object in which every attribute of the table is planted', () => {
  const ways: [string, Writing][] = [
    ['explicit, little endian', EXPLICIT],
    ['implicit, little endian', IMPLICIT],
    ['explicit, big endian', BIG],
  ];
  const private_ = [
    at(0x00090010, 'LO', 'QUILLFEATHER PRIVATE'),
    at(0x00290010, 'LO', 'QUILLFEATHER PRIVATE'),
  ];

  it.each(ways)('keeps none of the values at the top, %s', (_name, writing) => {
    const rows = plant(1000);
    const elements = changed(radiograph(), ...private_, ...inDataSet(rows));
    const file = fileOf(elements, writing, { preamble: 'Rowän Testcase' });
    expectNoneSurvive(
      file,
      rows.filter(({ element }) => !META.has(element.tag)),
    );
  });

  const paths: [string, readonly number[]][] = [
    ['sequences that stay', KEPT_PATH],
    ['sequences of which only the first stays', [0x00082228, 0x00400275, 0x00081140]],
    ['sequences of tables', TABLE_PATH],
    ['unknown sequences', UNKNOWN_PATH],
  ];
  it.each(
    ways.flatMap(([name, writing]) => paths.map(([where, path]) => [where, name, path, writing] as const)),
  )('keeps none of the values three deep in %s, %s', (_where, _name, path, writing) => {
    const rows = plant(3000);
    const open = writing === IMPLICIT;
    const tables = path === TABLE_PATH ? tableItems(rows, open) : nest(path, rows, 'SQ', open);
    expectNoneSurvive(
      fileOf(changed(radiograph(), tables), writing),
      rows.filter(({ element }) => !META.has(element.tag)),
    );
  });

  it('keeps none of the values in a sequence of unknown kind, written implicitly inside', () => {
    const rows = plant(5000);
    for (const first of [0x00091010, 0x00400275, 0x00082218])
      expectNoneSurvive(
        fileOf(
          changed(
            radiograph(),
            at(0x00090010, 'LO', 'QUILLFEATHER PRIVATE'),
            nest([first, 0x00081140, 0x0040a730], rows, 'UN', true),
          ),
        ),
        rows.filter(({ element }) => !META.has(element.tag)),
      );
  });

  it('keeps none of the values in a slice of a scan, whose frame of reference stays under a new name', () => {
    const rows = plant(7000);
    const copy = copyOf(fileOf(changed(slice(), ...inDataSet(rows))), signedPixels(12));
    for (const { row, texts } of rows)
      for (const text of texts) expect(holds(copy, text), `${row.tag}: survived`).toBe(false);
    expect(textIn(copy, 0x00080016)).toBe(CLASS.slice);
    expect(textIn(copy, 0x00200052)).toMatch(/^2\.25\.\d+$/);
  });

  it('gives each UID that must be there a new one', () => {
    const rows = plant(1000);
    const source = fileOf(changed(radiograph(), ...inDataSet(rows)));
    const copy = copyOf(source, rampPixels(12));
    for (const tag of [0x00080018, 0x0020000d, 0x0020000e]) {
      expect(PROFILE.find((row) => tagOf(row) === tag)?.action).toBe('U');
      expect(textIn(copy, tag)).toMatch(/^2\.25\.\d+$/);
      expect(textIn(copy, tag)).not.toBe(textIn(source, tag));
    }
  });
});

/** A VOI LUT item that is whole, with the rows three sequences deep inside it. */
function tableItems(rows: readonly PlantedRow[], open: boolean): Planted {
  const inside = nest([0x00283010, 0x00283010], rows, 'SQ', open);
  return at(
    0x00283010,
    'SQ',
    [
      [
        at(0x00283002, 'US', [4, 0, 8]),
        at(0x00283003, 'LO', 'of Rowan'),
        at(0x00283006, 'OW', [0, 85, 170, 255]),
        inside,
      ],
    ],
    open,
  );
}

/** The values are in the source, so that the search can find them, and in no form in the copy. */
function expectNoneSurvive(source: Buffer, rows: readonly PlantedRow[]): void {
  opened(source);
  const copy = copyOf(source, rampPixels(12));
  const survived = rows.filter(({ texts }) => texts.some((text) => holds(copy, text)));
  const planted = rows.filter(({ texts }) => texts.some((text) => holds(source, text)));
  expect(planted).toHaveLength(rows.length);
  expect(survived.map(({ row }) => `${row.tag} ${row.action}`)).toEqual([]);
  expect(holds(copy, 'QUILLFEATHER')).toBe(false);
  expect(dicomLeftovers(copy)).toEqual([]);
}
