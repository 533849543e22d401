import { describe, expect, it } from 'vitest';
import type { PictureFacts } from '../../../src/core/picture-facts.js';
import { saysOtherPatient } from '../../../src/stages/guard/metadata-person.js';
import { identify } from '../../../src/stages/identify/index.js';
import { strip } from '../../../src/stages/strip/index.js';
import { changed, codeOf, radiograph, slice } from '../../formats/dicom/copy/drawn-objects.js';
import { run, withPeers } from '../../formats/dicom/copy/peer-tools.js';
import { at, BIG, EXPLICIT, fileOf, IMPLICIT, type Planted } from '../../formats/dicom/copy/source-object.js';

const KEY = Buffer.from('a key of thirty-two bytes, tests');
const PATIENT = { chart: 'A-20417', names: ['Rowän Testcase'], born: '1984-06-02' };

async function factsOf(file: Buffer, name = 'a.dcm'): Promise<PictureFacts> {
  const outcome = await identify(file, name);
  if (outcome.kind !== 'kept') throw new Error(JSON.stringify(outcome.reason));
  return outcome.value;
}

const valuesOf = ({ identifying }: PictureFacts, kind: string): string[] =>
  identifying.filter((one) => one.kind === kind).map(({ value }) => value);

const objectOf = async (...more: Planted[]) => (await factsOf(fileOf(changed(radiograph(), ...more)))).object;

describe('what a DICOM object says of itself', () => {
  it('is read the same in every way of writing', async () => {
    for (const writing of [EXPLICIT, IMPLICIT, BIG]) {
      const facts = await factsOf(fileOf(radiograph(), writing));
      expect(facts).toMatchObject({
        format: 'DICOM',
        widthPx: 24,
        heightPx: 16,
        bitsPerChannel: 16,
        grey: true,
      });
      expect(facts).toMatchObject({ takenAt: '2026-02-11T09:41:03', orientation: 1, notes: [] });
      expect(valuesOf(facts, 'person-name')).toEqual(['Testcase^Rowän']);
      expect(valuesOf(facts, 'person-id')).toEqual(['A-20417']);
      expect(valuesOf(facts, 'birth-date')).toEqual(['19840602']);
      expect(valuesOf(facts, 'other')).toEqual(
        expect.arrayContaining(['Clinic Quillfeather', 'Referrer^Ottoline', '1.2.3.4.5.6']),
      );
      expect(valuesOf(facts, 'free-text')).toEqual(expect.arrayContaining(['Check of Testcase, Rowan']));
      expect(saysOtherPatient(facts.identifying, PATIENT)).toBe(false);
      expect(
        saysOtherPatient(facts.identifying, {
          ...PATIENT,
          names: ['Marlow Otherwise'],
          chart: null,
          born: null,
        }),
      ).toBe(true);
    }
  });

  it('is found at any depth, in private elements and in bytes', async () => {
    const nested = at(0x04000561, 'SQ', [
      [at(0x04000550, 'SQ', [[at(0x00100010, 'PN', 'Former^Rowan'), at(0x00100020, 'LO', 'OLD-3391')]])],
    ]);
    const secret = [
      at(0x00110010, 'LO', 'INVENTED MAKER'),
      at(0x00111001, 'UN', Buffer.from('owner Wilhelmina Quist\0')),
      at(0x00111002, 'LT', 'Line one\r\nRowan T.'),
    ];
    const facts = await factsOf(fileOf([...radiograph(), nested, ...secret]));
    expect(valuesOf(facts, 'person-name')).toContain('Former^Rowan');
    expect(valuesOf(facts, 'person-id')).toContain('OLD-3391');
    expect(valuesOf(facts, 'free-text')).toEqual(
      expect.arrayContaining(['owner Wilhelmina Quist', 'INVENTED MAKER']),
    );
    expect(facts.carriers['private']).toBe(3);
    // a relative's name and a maker's are no patient's
    const relatives = [
      at(0x00101060, 'PN', 'Elder^Agnes'),
      at(0x00102297, 'PN', 'Parent^Agnes'),
      at(0x00081070, 'PN', 'Nurse^Ada'),
    ];
    expect(
      saysOtherPatient((await factsOf(fileOf([...radiograph(), ...relatives]))).identifying, PATIENT),
    ).toBe(false);
  });

  it.each([
    // bytes of one name by PS3.5, annexes H and J, and ISO/IEC 8859
    ['ISO_IR 100', Buffer.from('Buc^J\xe9r\xf4me', 'latin1'), 'Buc^Jérôme'],
    ['ISO_IR 144', Buffer.from([0xbb, 0xee, 0xda, 0x63, 0x65, 0xdc, 0xd1, 0xe3, 0xe0, 0xd3]), 'Люкceмбург'],
    ['ISO_IR 192', Buffer.from('Wang^XiaoDong=王^小东=', 'utf8'), 'Wang^XiaoDong=王^小东='],
    ['GB18030', Buffer.from([0xcd, 0xf5, 0x5e, 0xd0, 0xa1, 0xb6, 0xab]), '王^小东'],
    [
      '\\ISO 2022 IR 87',
      Buffer.from('Yamada^Tarou=\x1b$B;3ED\x1b(B^\x1b$BB@O:\x1b(B', 'latin1'),
      'Yamada^Tarou=山田^太郎',
    ],
    ['', Buffer.from('J\xe9r\xf4me', 'latin1'), 'Jérôme'],
  ])('in character set "%s"', async (set, bytes, name) => {
    const file = fileOf(changed(radiograph(), at(0x00080005, 'CS', set), at(0x00100010, 'PN', bytes)));
    expect(valuesOf(await factsOf(file), 'person-name')).toEqual([name]);
  });

  it('takes the moment of exposure before that of the study, also as ACR-NEMA wrote it, and no day without a time', async () => {
    const takenAt = async (...more: Planted[]) =>
      (await factsOf(fileOf(changed(radiograph(), ...more)))).takenAt;
    expect(await takenAt(at(0x0008002a, 'DT', '20260211101500.25+0100'))).toBe('2026-02-11T10:15:00.25');
    expect(await takenAt(at(0x00080022, 'DA', '2026.02.10'), at(0x00080032, 'TM', '10:15:00'))).toBe(
      '2026-02-10T10:15:00',
    );
    expect(await takenAt(at(0x00080030, 'TM', ''))).toBeNull();
    expect(await takenAt(at(0x00080020, 'DA', '20261399'))).toBeNull();
  });

  it('names its teeth and side by the codes of PS3.16, old and new, and nothing that is not a tooth', async () => {
    expect(await objectOf()).toEqual({ teeth: [16], side: 'right' });
    const old = (code: string) =>
      objectOf(codeOf(0x00082228, code, 'SRT', 'a tooth'), at(0x00200062, 'CS', 'L'));
    // the legacy codes of CID 4018 for 18, 17, 16, 15, 14
    expect(await Promise.all(['T-54210', 'T-54220', 'T-54230', 'T-54240', 'T-54250'].map(old))).toEqual(
      [18, 17, 16, 15, 14].map((tooth) => ({ teeth: [tooth], side: 'left' })),
    );
    expect(
      await objectOf(codeOf(0x00082228, '99999', '99LOCAL', 'tooth 46'), at(0x00200062, 'CS', '')),
    ).toBeUndefined();
    expect((await factsOf(fileOf(slice()))).object).toBeUndefined();
  });

  withPeers(['pydicom'], 'names teeth as the published list of pydicom does (CID 4018)', async () => {
    const script =
      "import json\nfrom pydicom.sr._snomed_dict import mapping\nprint(json.dumps({c: mapping['SRT'][c] for c in ['T-54210','T-54230','T-54280','T-54390','T-54500']}))";
    const { text } = run('/usr/bin/python3', ['-c', script]);
    for (const [srt, sct] of Object.entries(JSON.parse(text) as Record<string, string>)) {
      const [older, newer] = [
        await objectOf(codeOf(0x00082228, srt, 'SRT', '')),
        await objectOf(codeOf(0x00082228, sct, 'SCT', '')),
      ];
      expect([srt, older?.teeth.length, newer?.teeth]).toEqual([srt, 1, older?.teeth]);
    }
  });

  it('tells of an extension that says something else', async () => {
    expect((await factsOf(fileOf(radiograph()), 'a.jpg')).notes).toEqual([
      'The extension says JPEG, the bytes say DICOM.',
    ]);
  });
});

describe('stripping a DICOM object', () => {
  it('leaves none of it, and holds nothing for digits and words that every copy has', async () => {
    const unlucky = [
      at(0x00081030, 'LO', 'PRIMARY'),
      at(0x0008103e, 'LO', 'maxilla'),
      at(0x00204000, 'LT', 'DERIVED'),
    ];
    for (let number = 1000; number < 1040; number++) {
      const file = fileOf(
        changed(radiograph(), ...unlucky, at(0x00100020, 'LO', `${number === 1000 ? 2048 : number}`)),
      );
      const outcome = await strip(file, await factsOf(file), { uidKey: KEY });
      expect(outcome.kind).toBe('kept');
    }
    const file = fileOf(radiograph(), EXPLICIT, { preamble: 'Testcase, Rowan' });
    const outcome = await strip(file, await factsOf(file), { uidKey: KEY });
    const output = outcome.kind === 'kept' ? Buffer.from(outcome.value.bytes).toString('latin1') : 'Testcase';
    expect(output).not.toMatch(/Testcase|A-20417|19840602|Quillfeather|Ottoline/);
    expect(outcome.kind === 'kept' && outcome.value.removed).toMatchObject({
      preamble: 1,
      patient: expect.any(Number),
    });
  });

  it('does not do it without a key, which would let anyone try source UIDs', async () => {
    const file = fileOf(radiograph());
    expect((await strip(file, await factsOf(file))).kind).toBe('failed');
  });
});
