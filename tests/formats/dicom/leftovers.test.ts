import { describe, expect, test } from 'vitest';
import { dicom } from '../../../src/formats/dicom/index.js';
import { dicomLeftovers } from '../../../src/formats/dicom/leftovers/index.js';
import { opened } from './copy/copies.js';
import { radiograph, slice, still } from './copy/drawn-objects.js';
import { at, EXPLICIT, encode, fileOf, type Planted } from './copy/source-object.js';

const KEY = Buffer.from('a key of thirty-two bytes, tests');

async function copyOf(file: Buffer): Promise<Buffer> {
  const outcome = await dicom.strip(file, { uidKey: KEY });
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome.reason));
  return Buffer.concat(outcome.value.parts.map(({ bytes }) => bytes));
}

/** The copy with an element in front of its others, instead of the one of the same tag. */
function planted(copy: Buffer, element: Planted): Buffer {
  const { elements, bytes } = opened(copy);
  const from = copy.length - bytes.length;
  const same = elements.findIndex(({ tag }) => tag === element.tag);
  const [start, end] =
    same < 0 ? [from, from] : [endOf(elements[same - 1]!, from), endOf(elements[same]!, from)];
  return Buffer.concat([
    copy.subarray(0, from),
    encode([element], EXPLICIT),
    copy.subarray(from, start),
    copy.subarray(end),
  ]);
}

const endOf = ({ at: place, length }: { at: number; length: number }, from: number): number =>
  from + place + length;

describe('the second reading of a copy', () => {
  test('finds nothing in copies of every kind of object', async () => {
    for (const elements of [radiograph(), slice(), still()])
      expect(dicomLeftovers(await copyOf(fileOf(elements)))).toEqual([]);
  });

  test('names whatever is not on its list, at any depth, and values that may not stand where they are', async () => {
    const copy = await copyOf(fileOf(radiograph()));
    const code = (meaning: string) => [
      at(0x00080100, 'SH', '28035005'),
      at(0x00080102, 'SH', 'SCT'),
      at(0x00080104, 'LO', meaning),
    ];
    const cases: [Planted, string][] = [
      [at(0x00100010, 'PN', 'Testcase^Rowan'), '(0010,0010)'],
      [at(0x00204000, 'LT', 'a comment'), '(0020,4000)'],
      [at(0x00290010, 'LO', 'MAKER'), '(0029,0010)'],
      [at(0x60003000, 'OW', [1, 2]), '(6000,3000)'],
      [at(0x00081140, 'SQ', [[at(0x00081155, 'UI', '1.2.3')]]), '(0008,1140)'],
      [at(0x00200052, 'UI', '1.2.3.4'), '(0020,0052)'],
      [at(0x00281054, 'LO', 'ROWAN'), '(0028,1054)'],
      [at(0x00281050, 'DS', 'Rowan'), '(0028,1050)'],
      [at(0x00080068, 'LO', 'FOR PRESENTATION'), '(0008,0068)'],
      [at(0x00082218, 'SQ', [code('Rowan')]), '(0008,0104)'],
      [at(0x00082218, 'SQ', [[...code('jaw region'), at(0x00080105, 'CS', 'DCMR')]]), '(0008,0105)'],
      [
        at(0x00283010, 'SQ', [[at(0x00283002, 'US', [2, 0, 8]), at(0x00283006, 'OW', [1, 2, 3])]]),
        '(0028,3006)',
      ],
    ];
    for (const [element, name] of cases) expect(dicomLeftovers(planted(copy, element))).toContain(name);
  });

  test('names a preamble, other file meta, and bytes behind the samples', async () => {
    const copy = await copyOf(fileOf(radiograph()));
    const preamble = Buffer.from(copy);
    preamble.write('Rowan', 3, 'latin1');
    expect(dicomLeftovers(preamble)).toEqual(['preamble']);
    expect(dicomLeftovers(Buffer.concat([copy, Buffer.from('Rowan!')]))).toEqual(['unreadable']);
    expect(dicomLeftovers(copy.subarray(0, copy.length - 2))).toEqual(['unreadable']);
    expect(
      dicomLeftovers(fileOf(radiograph(), EXPLICIT, { meta: [at(0x00020016, 'AE', 'ROWAN')] })),
    ).toContain('(0002,0016)');
  });
});
