import { describe, expect, it } from 'vitest';
import { copyOf } from '../../formats/dicom/copy/copies.js';
import { radiograph, rampPixels, slice } from '../../formats/dicom/copy/drawn-objects.js';
import { at, EXPLICIT, fileOf, IMPLICIT, type Planted } from '../../formats/dicom/copy/source-object.js';
import { kindsOf, read, reader, TERMS } from './given/read.js';

const nested = (depth: number, inner: Planted): Planted =>
  depth === 0 ? inner : at(0x00400275, 'SQ', [[nested(depth - 1, inner)]], depth % 2 === 0);

describe('a DICOM object', () => {
  it('as a device writes it shows name, chart number, birth date, visit and foreign identifiers', async () => {
    const found = await read(fileOf(radiograph(), EXPLICIT));
    expect(kindsOf(found)).toEqual(
      expect.arrayContaining([
        'birth-date',
        'chart-number',
        'date',
        'name',
        'patient-name',
        'uid',
        'visit-date',
      ]),
    );
    expect(found.hits).toContainEqual({ file: 'file', where: 'DICOM (0010,0010)', kind: 'patient-name' });
    expect(JSON.stringify(found)).not.toMatch(/rowan|testcase|20417/i);
  });

  it.each([
    ['explicit', EXPLICIT],
    ['implicit', IMPLICIT],
  ])('with a name three sequences deep shows the way to it, in %s VR', async (_, writing) => {
    const deep = nested(3, at(0x00400007, 'LO', 'check of Rowan'));
    const found = await read(fileOf([...radiograph(), deep], writing));
    const way = 'DICOM (0040,0275), '.repeat(3);
    expect(found.hits).toContainEqual({
      file: 'file',
      where: `${way}DICOM (0040,0007)`,
      kind: 'patient-name',
    });
  });

  it('is clean once it is a de-identified copy, and its pixels are read', async () => {
    for (const source of [radiograph(), slice()]) {
      const copy = copyOf(fileOf(source, EXPLICIT), rampPixels(12));
      const tools = reader([]);
      expect(await read(copy, TERMS, tools)).toEqual({ hits: [], possible: [], unread: [] });
      expect(tools.seen).toEqual(['24x16x1']);
    }
  });
});
