import { describe, expect, it } from 'vitest';
import { writeCopy } from '../../../../src/formats/dicom/copy/index.js';
import { decodeFrame } from '../../../../src/formats/dicom/decode-frame.js';
import { dicomLeftovers } from '../../../../src/formats/dicom/leftovers/index.js';
import { outcomeOf } from '../../../../src/formats/refusal.js';
import { copyOf, holds, KEY, keptOf, opened, tagsIn, textIn } from './copies.js';
import {
  CLASS,
  changed,
  codeOf,
  pixelElements,
  radiograph,
  rampPixels,
  signedPixels,
  slice,
  still,
} from './drawn-objects.js';
import { at, BIG, EXPLICIT, fileOf, IMPLICIT, type Planted } from './source-object.js';

const pixels = rampPixels(12);
const copied = (...changes: Parameters<typeof changed>[1][]): Buffer =>
  copyOf(fileOf(changed(radiograph(), ...changes)), pixels);
const NAMES = [
  'Rowän',
  'Rowan',
  'Testcase',
  'Ottoline',
  'Quillfeather',
  'A-20417',
  'ACC-77120',
  '19840602',
  '20260211',
  'ST-5512',
];

/** Where something that identifies can stand besides the attributes of the table. */
const HIDING: Record<string, Planted[]> = {
  'a private block': [
    at(0x00090010, 'LO', 'QUILL'),
    at(0x00091001, 'LO', 'Rowän'),
    at(0x00091002, 'UN', Buffer.from('Rowän')),
  ],
  'a private creator inside a sequence': [
    at(0x00400275, 'SQ', [
      [at(0x00290010, 'LO', 'QUILL'), at(0x00291001, 'SQ', [[at(0x00100010, 'PN', 'Rowän')]])],
    ]),
  ],
  'a private creator inside a sequence that stays': [
    codeOf(0x00082218, '661005', 'SCT', 'Rowän', [
      at(0x00090010, 'LO', 'QUILL'),
      at(0x00091001, 'LO', 'Rowän'),
    ]),
  ],
  'an icon': [
    at(0x00880200, 'SQ', [
      [
        ...pixelElements(rampPixels(8), 8, 'MONOCHROME2').filter(({ tag }) => tag !== 0x7fe00010),
        at(0x7fe00010, 'OB', Buffer.from('Rowän'.repeat(8))),
      ],
    ]),
  ],
  'earlier values': [
    at(0x04000561, 'SQ', [
      [
        at(0x04000550, 'SQ', [[at(0x00100010, 'PN', 'Rowän^Testcase')]]),
        at(0x04000564, 'LO', 'Quillfeather'),
      ],
    ]),
  ],
  'an overlay': [
    at(0x60000010, 'US', [16]),
    at(0x60000022, 'LO', 'Rowän'),
    at(0x60003000, 'OW', Buffer.from('Rowän'.repeat(10))),
  ],
  'a curve': [at(0x50000022, 'LO', 'Rowän'), at(0x50003000, 'OW', Buffer.from('Rowän'))],
  'an odd number of bytes': [at(0x00104000, 'LT', 'Rowän T'), at(0x00324000, 'LT', 'Ottoline')],
  'values in a row': [
    at(0x00101001, 'PN', 'Rowän^A\\Testcase^B\\Ottoline'),
    at(0x00101000, 'LO', 'A-20417\\19840602'),
  ],
  'unknown attributes': [
    at(0x00187fff, 'LO', 'Rowän'),
    at(0x0028ffff, 'UT', 'Rowän'),
    at(0x20510020, 'CS', 'ROWAN'),
  ],
  'a sequence of unknown kind': [at(0x00081140, 'UN', [[at(0x00100010, 'PN', 'Rowän')]], true)],
  'padding behind everything': [at(0xfffcfffc, 'OB', Buffer.from('Rowän Testcase'))],
  'a sequence where a value belongs': [at(0x00281050, 'SQ', [[at(0x00100010, 'PN', 'Rowän')]])],
  'a value where a sequence belongs': [at(0x00082218, 'LO', 'Rowän')],
};

describe('a copy', () => {
  it.each(Object.entries(HIDING))('leaves %s behind', (_where, planted) => {
    for (const writing of [EXPLICIT, IMPLICIT]) {
      const source = fileOf(changed(radiograph(), ...planted), writing, { preamble: 'Rowän Testcase' });
      const copy = copyOf(source, pixels);
      expect(NAMES.some((name) => holds(source, name))).toBe(true);
      expect(NAMES.filter((name) => holds(copy, name))).toEqual([]);
      expect(dicomLeftovers(copy)).toEqual([]);
    }
  });

  it.each([
    ['Latin-1', 'ISO_IR 100', Buffer.from('Rowän', 'latin1')],
    ['UTF-8', 'ISO_IR 192', Buffer.from('Розалинда', 'utf8')],
    ['Japanese with escapes', '\\ISO 2022 IR 87', Buffer.from('\x1b$B;3ED\x1b(B^\x1b$BB@O:\x1b(B', 'latin1')],
    ['Chinese', 'GB18030', Buffer.from([0xcd, 0xf5, 0x5e, 0xd0, 0xa1])],
  ])('is written in plain characters, whatever the source was written in: %s', (_name, charset, name) => {
    const fields = [0x00100010, 0x00281054, 0x00281055, 0x00080008, 0x00200020, 0x00280004].map((tag) =>
      at(tag, 'PN', name),
    );
    const [patient, type, explanation, image, orientation] = fields as [
      Planted,
      Planted,
      Planted,
      Planted,
      Planted,
    ];
    const text = (element: Planted, vr: string): Planted => ({ ...element, vr });
    const copy = copied(
      ...[at(0x00080005, 'CS', charset), patient, text(type, 'LO'), text(explanation, 'LO')],
      ...[text(image, 'CS'), text(orientation, 'CS')],
    );
    expect(copy.includes(name)).toBe(false);
    expect(textIn(copy, 0x00080005)).toBeNull();
    const head = copy.subarray(0, copy.length - pixels.data.byteLength);
    const texts = opened(copy).elements.filter(({ vr }) =>
      ['CS', 'LO', 'SH', 'PN', 'DS', 'IS'].includes(vr ?? ''),
    );
    for (const { at: from, length } of texts)
      expect(
        [...opened(copy).bytes.subarray(from, from + length)].every((byte) => byte >= 0x20 && byte < 0x7f),
      ).toBe(true);
    expect(head.includes('\x1b$')).toBe(false);
  });

  it('says what was done to it, and nothing of a search of its pixels', () => {
    const copy = copied();
    expect(textIn(copy, 0x00120062)).toBe('YES');
    expect(textIn(copy, 0x00120063)).toBe(
      'PS3.15 Annex E Basic Profile\\kept by allow-list\\UIDs keyed\\dates removed',
    );
    expect(textIn(copy, 0x00280303)).toBe('REMOVED');
    expect(copy.includes('113100')).toBe(true);
    expect(copy.includes('113101')).toBe(false);
    // the source says NO, which nobody has seen to: the class wants an answer, and YES is the safe one
    expect(textIn(copy, 0x00280301)).toBe('YES');
    expect(
      textIn(copyOf(fileOf(changed(still(), at(0x00280301, 'CS', 'NO'))), rampPixels(8, 3)), 0x00280301),
    ).toBeNull();
  });

  it('has an empty preamble and a file meta group of its own', () => {
    const meta = [
      at(0x00020016, 'AE', 'QUILLSTATION'),
      at(0x00020013, 'SH', 'QUILL 1.0'),
      at(0x00020102, 'OB', Buffer.from('Rowän')),
    ];
    const copy = copyOf(fileOf(radiograph(), EXPLICIT, { preamble: 'II*\0 Rowän', meta }), pixels);
    expect(copy.subarray(0, 132)).toEqual(Buffer.concat([Buffer.alloc(128), Buffer.from('DICM')]));
    expect(opened(copy).meta?.map(({ tag }) => tag)).toEqual(
      [0, 1, 2, 3, 0x10, 0x12, 0x13].map((element) => 0x00020000 + element),
    );
    expect(holds(copy, 'QUILL')).toBe(false);
  });

  it('keeps what rendering, scale and tooth need, and the same values', () => {
    const copy = copied();
    const same = [
      0x00080016, 0x00080060, 0x00181114, 0x00181164, 0x00200020, 0x00200062, 0x00280004, 0x00280030,
    ];
    const shown = [
      0x00280a02, 0x00281040, 0x00281050, 0x00281051, 0x00281052, 0x00281053, 0x00281054, 0x00282110,
      0x20500020,
    ];
    const source = fileOf(radiograph());
    for (const tag of [...same, ...shown])
      expect([tag, textIn(copy, tag)]).toEqual([tag, textIn(source, tag)]);
  });

  it('is the same, bytes and all, however the source was written', () => {
    const copies = [EXPLICIT, IMPLICIT, BIG].map((writing) => copyOf(fileOf(radiograph(), writing), pixels));
    expect(copies[1]?.equals(copies[0] as Buffer)).toBe(true);
    expect(copies[2]?.equals(copies[0] as Buffer)).toBe(true);
  });

  it('of a copy is the same copy', () => {
    for (const [elements, of] of [
      [radiograph(), pixels],
      [slice(), signedPixels(12)],
      [still(), rampPixels(8, 3)],
    ] as const) {
      const once = copyOf(fileOf(elements), of);
      expect(copyOf(once, of).equals(once)).toBe(true);
      expect(copyOf(once, of, 1, Buffer.alloc(32, 9)).equals(once)).toBe(true);
    }
  });

  it('does not change its source', () => {
    const source = fileOf(radiograph());
    const before = Buffer.from(source);
    copyOf(source, pixels);
    expect(source.equals(before)).toBe(true);
  });

  it('has exactly the samples that were decoded', async () => {
    const cases = [
      fileOf(radiograph()),
      fileOf(radiograph(), BIG),
      fileOf(slice()),
      fileOf(still()),
      // an overlay in the unused bits, and a picture stored at the top of its words
      fileOf(
        changed(
          radiograph(),
          at(
            0x7fe00010,
            'OW',
            Array.from(pixels.data, (value) => value | 0xf000),
          ),
        ),
      ),
      fileOf(
        changed(
          radiograph(),
          at(0x00280102, 'US', [15]),
          at(
            0x7fe00010,
            'OW',
            Array.from(pixels.data, (value) => (value << 4) | 5),
          ),
        ),
      ),
    ];
    for (const source of cases) {
      const decoded = keptOf(await decodeFrame(opened(source), { pixelLimit: 1e6 }));
      const copy = copyOf(source, decoded);
      expect(keptOf(await decodeFrame(opened(copy), { pixelLimit: 1e6 }))).toEqual(decoded);
    }
  });
});

describe('the UIDs of a copy', () => {
  it('keep series and studies together, within and across batches', () => {
    const one = copied();
    const other = copied(at(0x00080018, 'UI', '1.2.3.4.5.7'));
    for (const tag of [0x0020000d, 0x0020000e]) expect(textIn(other, tag)).toBe(textIn(one, tag));
    expect(textIn(other, 0x00080018)).not.toBe(textIn(one, 0x00080018));
    expect(copied().equals(one)).toBe(true);
    expect(textIn(copyOf(fileOf(radiograph()), pixels, 1, Buffer.alloc(32, 1)), 0x0020000d)).not.toBe(
      textIn(one, 0x0020000d),
    );
  });

  it('are new even where the source hides a number behind the root of the standard', () => {
    const copy = copied(
      at(0x00080018, 'UI', '1.2.840.10008.19840602'),
      at(0x0020000d, 'UI', '1.2.840.10008.5.20417'),
    );
    expect(textIn(copy, 0x00080018)).toMatch(/^2\.25\./);
    expect(textIn(copy, 0x0020000d)).toMatch(/^2\.25\./);
  });

  it('leave a well-known frame of reference alone, and no other', () => {
    const inFrame = (uid: string) =>
      textIn(copyOf(fileOf(changed(slice(), at(0x00200052, 'UI', uid))), signedPixels(12)), 0x00200052);
    // Talairach brain atlas (PS3.6, table A-2)
    expect(inFrame('1.2.840.10008.1.4.1.1')).toBe('1.2.840.10008.1.4.1.1');
    expect(inFrame('1.2.840.10008.1.4.1.19840602')).toMatch(/^2\.25\./);
    expect(inFrame('1.2.3.4.5.3')).toMatch(/^2\.25\./);
  });

  it('are made of the pixels when the source has none', () => {
    const nameless = (value: typeof pixels) =>
      copyOf(
        fileOf(changed(radiograph(), { tag: 0x00080018, value: null }, { tag: 0x0020000d, value: null })),
        value,
      );
    const other = { ...pixels, data: pixels.data.toReversed() as Uint16Array };
    expect(textIn(nameless(pixels), 0x00080018)).toBe(textIn(nameless(pixels), 0x00080018));
    expect(textIn(nameless(other), 0x00080018)).not.toBe(textIn(nameless(pixels), 0x00080018));
    expect(textIn(nameless(pixels), 0x00080018)).not.toBe(textIn(nameless(pixels), 0x0020000d));
  });
});

describe('one frame of several', () => {
  const volume = (): Planted[] =>
    changed(
      slice(CLASS.enhancedSlice),
      ...[0x00280030, 0x00281050, 0x00281051, 0x00281052, 0x00281053].map((tag) => ({ tag, value: null })),
      at(0x00280008, 'IS', '2'),
      at(0x7fe00010, 'OW', [...signedPixels(12).data, ...signedPixels(12).data]),
      at(0x52009229, 'SQ', [
        [
          at(0x00289110, 'SQ', [[at(0x00280030, 'DS', '0.2\\0.2')]]),
          at(0x00289145, 'SQ', [
            [at(0x00281052, 'DS', '-1024'), at(0x00281053, 'DS', '2'), at(0x00281054, 'LO', 'HU')],
          ]),
          at(0x00209111, 'SQ', [[at(0x00189074, 'DT', '20260211094103')]]),
        ],
      ]),
      at(0x52009230, 'SQ', [
        [
          at(0x00289132, 'SQ', [
            [at(0x00281050, 'DS', '10'), at(0x00281051, 'DS', '100'), at(0x00281055, 'LO', 'Ottoline')],
          ]),
        ],
        [at(0x00289132, 'SQ', [[at(0x00281050, 'DS', '20'), at(0x00281051, 'DS', '200')]])],
      ]),
    );

  it('becomes a capture with the values that hold for it', () => {
    const copies = [1, 2].map((frame) => copyOf(fileOf(volume()), signedPixels(12), frame));
    expect(copies.map((copy) => textIn(copy, 0x00281050))).toEqual(['10', '20']);
    for (const copy of copies) {
      expect(textIn(copy, 0x00280030)).toBe('0.2\\0.2');
      expect(textIn(copy, 0x00281052)).toBe('-1024');
      expect(textIn(copy, 0x00080016)).toBe(CLASS.capture);
      expect(textIn(copy, 0x00080008)).toBe('DERIVED\\SECONDARY');
      expect(tagsIn(copy).filter((tag) => /^(52|00280008)/.test(tag))).toEqual([]);
      expect(holds(copy, '20260211')).toBe(false);
    }
  });

  it('is an instance of its own, in the same study', () => {
    const [one, two] = [1, 2].map((frame) => copyOf(fileOf(volume()), signedPixels(12), frame)) as [
      Buffer,
      Buffer,
    ];
    expect(textIn(one, 0x00080018)).not.toBe(textIn(two, 0x00080018));
    expect(textIn(one, 0x0020000d)).toBe(textIn(two, 0x0020000d));
  });
});

describe('values that stay', () => {
  /** Attribute, VR, what the source says, what the copy says. */
  const VALUES: [string, number, string, string, string | null][] = [
    ['a number with blanks around it', 0x00281050, 'DS', ' 2048 ', '2048'],
    ['zeros in front that count nothing', 0x00281050, 'DS', '+002048.500', '2048.5'],
    ['more digits than a DS may have', 0x00181114, 'DS', '1.23456789012345678901', '1.23456789012346'],
    ['a date instead of a magnification', 0x00181114, 'DS', '19840602', null],
    ['words instead of a number', 0x00181114, 'DS', 'Rowan', null],
    ['too many numbers', 0x00181164, 'DS', '0.02\\0.02\\19840602', null],
    ['a spacing of nothing', 0x00280030, 'DS', '0\\0', null],
    [
      'words of an image type that anybody may invent',
      0x00080008,
      'CS',
      'ORIGINAL\\PRIMARY\\ROWAN TESTCASE',
      'ORIGINAL\\PRIMARY',
    ],
    ['a side that is none', 0x00200060, 'CS', 'ROWAN', ''],
    ['a calibration of an own kind', 0x00280a02, 'CS', 'OTTOLINE', null],
    ['units of an own kind', 0x00281054, 'LO', 'Rowan units', 'US'],
    ['a kind of device that is none', 0x00080060, 'CS', 'ROWAN', 'IO'],
    ['a shape that is none', 0x20500020, 'CS', 'ROWAN', 'IDENTITY'],
    ['a shape that contradicts the kind of grey', 0x20500020, 'CS', 'INVERSE', 'IDENTITY'],
    ['an aspect ratio', 0x00280034, 'IS', '5\\4', '5\\4'],
    ['an aspect ratio that is a date', 0x00280034, 'IS', '1984\\20260211', null],
  ];
  it.each(VALUES)('%s', (_name, tag, vr, value, expected) => {
    const changes: Parameters<typeof changed>[1][] = [at(tag, vr, value)];
    if (tag === 0x00200060) changes.push({ tag: 0x00200062, value: null });
    expect(textIn(copied(...changes), tag)).toBe(expected);
  });

  it('are windows as many as they came, and none without its width', () => {
    const windows = [at(0x00281050, 'DS', '400\\40'), at(0x00281051, 'DS', '2000\\400')];
    expect(textIn(copied(...windows), 0x00281050)).toBe('400\\40');
    const unpaired = copyOf(
      fileOf(changed(radiograph(CLASS.computed, 'CR'), at(0x00281051, 'DS', 'wide'))),
      pixels,
    );
    expect([0x00281050, 0x00281051].map((tag) => textIn(unpaired, tag))).toEqual([null, null]);
  });

  it('are as many windows as have both a centre and a width', () => {
    const copy = copied(at(0x00281050, 'DS', '400\\40'), at(0x00281051, 'DS', '2000'));
    expect([0x00281050, 0x00281051].map((tag) => textIn(copy, tag))).toEqual(['400', '2000']);
  });

  it('are that a picture was coded with loss, also where only its coding shows it', () => {
    const silent = opened(
      fileOf(
        changed(
          still(),
          ...[0x00282110, 0x00282112, 0x00282114].map((tag) => ({ tag, value: null }) as const),
        ),
      ),
    );
    const past = (file: typeof silent): (string | null)[] => {
      const copy = Buffer.from(writeCopy(file, rampPixels(8, 3), { uidKey: KEY, frame: 1 }));
      return [0x00282110, 0x00282112, 0x00282114].map((tag) => textIn(copy, tag));
    };
    expect(past(opened(fileOf(still())))).toEqual(['01', '12.5', 'ISO_10918_1']);
    expect(past(silent)).toEqual(['', null, null]);
    // PS3.5, A.4.1: JPEG of 8 bits, A.4.4: JPEG 2000; native pixels no longer tell
    expect(past({ ...silent, transferSyntax: '1.2.840.10008.1.2.4.50' })).toEqual([
      '01',
      null,
      'ISO_10918_1',
    ]);
    expect(past({ ...silent, transferSyntax: '1.2.840.10008.1.2.4.91' })).toEqual([
      '01',
      null,
      'ISO_15444_1',
    ]);
    expect(past({ ...silent, transferSyntax: '1.2.840.10008.1.2.4.90' })).toEqual(['', null, null]);
  });

  it('are a warning of burned-in text, and no all-clear', () => {
    const said = (word: string) =>
      textIn(copyOf(fileOf(changed(still(), at(0x00280301, 'CS', word))), rampPixels(8, 3)), 0x00280301);
    expect(said('YES')).toBe('YES');
    expect(said('NO')).toBeNull();
  });

  it('are never windows beyond belief: such an object is held', () => {
    const read = opened(fileOf(changed(radiograph(), at(0x00281050, 'DS', '19840602'))));
    const outcome = outcomeOf('DICOM', () => copyOf(read.file, pixels));
    expect(outcome).toEqual({
      kind: 'held',
      reason: expect.objectContaining({ code: 'unusual', format: 'DICOM' }),
    });
  });

  it('are codes of a list, in our own words', () => {
    const older = copied(codeOf(0x00082228, 'T-54230', 'SRT', 'Sixteen of Rowan'));
    expect(holds(older, 'tooth 16 (ISO 3950)')).toBe(true);
    expect(holds(older, 'T-54230')).toBe(true);
    const foreign = copied(
      codeOf(0x00082228, '20417', 'SCT', 'Rowan'),
      codeOf(0x00082218, '661005', '99QUILL', 'Rowan'),
    );
    expect(holds(foreign, '20417')).toBe(false);
    expect(holds(foreign, '99QUILL')).toBe(false);
    expect(holds(foreign, 'Rowan')).toBe(false);
  });

  it('are a region with its known modifier, and several teeth', () => {
    const copy = copied(
      codeOf(0x00082218, '661005', 'SCT', 'Rowan', [codeOf(0x00082220, '699507006', 'SCT', 'Rowan')]),
      at(
        0x00082228,
        'SQ',
        ['865995000', '863902006', '4711'].map((code) => [
          at(0x00080100, 'SH', code),
          at(0x00080102, 'SH', 'SCT'),
          at(0x00080104, 'LO', 'Rowan'),
        ]),
      ),
    );
    expect(holds(copy, 'first molar region')).toBe(true);
    expect(holds(copy, 'tooth 16')).toBe(true);
    expect(holds(copy, 'tooth 17')).toBe(true);
    expect(holds(copy, '4711')).toBe(false);
  });

  it('are tables of grey without their explanations, packed ones one entry a word', () => {
    const table = (data: Planted): Planted =>
      at(0x00283010, 'SQ', [
        [at(0x00283002, 'US', [4, 0, 8]), at(0x00283003, 'LO', 'curve of Ottoline'), data],
      ]);
    const windowless = [0x00281050, 0x00281051].map((tag) => ({ tag, value: null }) as const);
    const copies = [
      at(0x00283006, 'OW', [10, 20, 30, 40]),
      at(0x00283006, 'OW', [10 + (20 << 8), 30 + (40 << 8)]),
    ].map((data) => copied(...windowless, table(data))) as [Buffer, Buffer];
    expect(copies[0].equals(copies[1])).toBe(true);
    expect(copies[0].includes(Buffer.from([10, 0, 20, 0, 30, 0, 40, 0]))).toBe(true);
    expect(holds(copies[0], 'Ottoline')).toBe(false);
  });

  it('are no tables with something behind them', () => {
    const read = fileOf(
      changed(
        radiograph(),
        at(0x00283010, 'SQ', [
          [at(0x00283002, 'US', [4, 0, 8]), at(0x00283006, 'OW', Buffer.from('abcdefghRowan Testcase'))],
        ]),
      ),
    );
    expect(outcomeOf('DICOM', () => copyOf(read, pixels)).kind).toBe('held');
  });
});

describe('the class of a copy', () => {
  it('is that of the source when it is one pictures of teeth come in, else a capture', () => {
    const classOf = (uid: string) => textIn(copied(at(0x00080016, 'UI', uid)), 0x00080016);
    expect(classOf(CLASS.intraOral)).toBe(CLASS.intraOral);
    expect(classOf(CLASS.digital)).toBe(CLASS.digital);
    for (const other of ['1.2.840.10008.5.1.4.1.1.88.11', '1.2.3.4.19840602', ''])
      expect(classOf(other)).toBe(CLASS.capture);
  });

  it('is a capture when the source lacks what only the device knew', () => {
    const lacking = copied({ tag: 0x00181164, value: null });
    expect(textIn(lacking, 0x00080016)).toBe(CLASS.capture);
    expect(textIn(lacking, 0x00080060)).toBe('IO');
    expect(textIn(lacking, 0x00080064)).toBe('WSD');
    expect(holds(lacking, 'tooth 16')).toBe(true);
  });

  it('is the same in the file meta group', () => {
    const { file, meta } = opened(copied({ tag: 0x00181164, value: null }));
    const stated = meta?.find(({ tag }) => tag === 0x00020002);
    expect(Buffer.from(file.subarray(stated?.at, (stated?.at ?? 0) + CLASS.capture.length)).toString()).toBe(
      CLASS.capture,
    );
  });
});
