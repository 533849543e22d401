import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { PDFDocument, PDFHexString, PDFName, PDFRawStream, type PDFRef } from 'pdf-lib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { inFile, withPeer } from '../sheet/given/peers.js';
import { record } from '../sheet/given/records.js';
import { drawn } from '../sheet/given/sheets.js';
import { zip } from './given/packed.js';
import { unpackedParts } from './given/plain-search.js';
import { plainPdf, rawPicture, saved } from './given/planted-pdf.js';
import { kindsOf, read, reader, TERMS } from './given/read.js';

const name = (text: string) => PDFName.of(text);

/** A sheet of our own with a name where only the drawn page shows it: subset font, glyph numbers. */
const sheetWithName = () =>
  drawn(
    record(undefined, { handoff: { ...record().courses[0]!.handoff, caries: 'removed for Rowan Testcase' } }),
  );

/** A plain search: any coding, any case, packed or not. */
const plainlyFound = (bytes: Uint8Array, word: string): boolean =>
  unpackedParts(Buffer.from(bytes)).some((part) =>
    ['latin1', 'utf16le'].some((coding) =>
      part
        .toString('latin1')
        .toLowerCase()
        .includes(Buffer.from(word, coding as 'latin1').toString('latin1')),
    ),
  );

describe('a name drawn on a sheet of our own', () => {
  it('is missed by a search of the bytes, packed or not, and found in the words of the page', async () => {
    const pdf = await sheetWithName();
    expect(plainlyFound(pdf, 'testcase')).toBe(false);
    const found = await read(pdf);
    expect(found.hits).toContainEqual({ file: 'file', where: 'page 1, text', kind: 'patient-name' });
  });

  it('is found when that sheet lies in a ZIP, with the way to it', async () => {
    const packed = zip({ 'case.pdf': await sheetWithName() });
    expect(plainlyFound(packed, 'testcase')).toBe(false);
    const found = await read(packed);
    expect(found.hits).toContainEqual({
      file: 'file',
      where: 'member case.pdf, page 1, text',
      kind: 'patient-name',
    });
  });

  withPeer('pdftotext', 'is there for another program as well', async () => {
    const words = execFileSync('pdftotext', [inFile(await sheetWithName()), '-'], { encoding: 'utf8' });
    expect(words).toContain('Rowan Testcase');
  });
});

/** The page content of a sheet of our own as a drawing, so that its text is glyph numbers under its own fonts. */
async function sheetDrawing(): Promise<{ document: PDFDocument; drawing: PDFRawStream }> {
  const document = await PDFDocument.load(await sheetWithName(), { updateMetadata: false });
  const page = document.getPage(0);
  const content = page.node.Contents() as PDFRawStream;
  const dict = content.dict.clone(document.context);
  const entries = { Type: 'XObject', Subtype: 'Form', BBox: [0, 0, 600, 900] };
  for (const [key, value] of Object.entries(entries)) dict.set(name(key), document.context.obj(value));
  for (const key of ['Type', 'Subtype']) dict.set(name(key), name(entries[key as 'Type']));
  dict.set(name('Resources'), page.node.Resources()!);
  page.node.set(name('Contents'), document.context.register(document.context.flateStream('')));
  document.catalog.delete(name('StructTreeRoot'));
  return { document, drawing: PDFRawStream.of(dict, content.contents) };
}

const addDrawing = (document: PDFDocument, drawing: PDFRawStream, content: string, more: object = {}) => {
  const page = document.getPage(0);
  const ref = document.context.register(drawing);
  page.node.set(name('Resources'), document.context.obj({ XObject: { X: ref }, ...more }));
  page.node.set(name('Contents'), document.context.register(document.context.flateStream(content)));
};

describe('a name that a printed page does not show', () => {
  it('is found in a layer that is switched off', async () => {
    const { document, drawing } = await sheetDrawing();
    const layer = document.context.register(
      document.context.obj({ Type: 'OCG', Name: PDFHexString.fromText('x') }),
    );
    document.catalog.set(name('OCProperties'), document.context.obj({ OCGs: [layer], D: { OFF: [layer] } }));
    drawing.dict.set(name('OC'), layer);
    addDrawing(document, drawing, '/OC /L BDC /X Do EMC', { Properties: { L: layer } });
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found outside the page', async () => {
    const { document, drawing } = await sheetDrawing();
    addDrawing(document, drawing, 'q 1 0 0 1 5000 -7000 cm /X Do Q');
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found in white, cut off by a clip of no size', async () => {
    const { document, drawing } = await sheetDrawing();
    addDrawing(document, drawing, 'q 0 0 0 0 re W n 1 1 1 rg /X Do Q');
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found in the appearance of a note', async () => {
    const { document, drawing } = await sheetDrawing();
    const { context } = document;
    const note = context.obj({
      Type: 'Annot',
      Subtype: 'Stamp',
      Rect: [0, 0, 9, 9],
      AP: { N: context.register(drawing) },
    });
    document.getPage(0).node.set(name('Annots'), context.obj([context.register(note)]));
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found in a drawing that nothing leads to', async () => {
    const { document, drawing } = await sheetDrawing();
    document.context.register(drawing);
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found in a pattern', async () => {
    const { document, drawing } = await sheetDrawing();
    drawing.dict.delete(name('Subtype'));
    for (const [key, value] of Object.entries({
      PatternType: 1,
      PaintType: 1,
      TilingType: 1,
      XStep: 9,
      YStep: 9,
    }))
      drawing.dict.set(name(key), document.context.obj(value));
    document.context.register(drawing);
    expect(kindsOf(await read(await saved(document)))).toContain('patient-name');
  });

  it('is found in an earlier state of the file, drawn in glyph numbers', async () => {
    const first = Buffer.from(await sheetWithName());
    const document = await PDFDocument.load(first, { updateMetadata: false });
    const { pagesTree } = { pagesTree: document.catalog.get(name('Pages')) };
    // The change: a page tree without pages, appended with a table of its own.
    const number = /(\d+) 0 R/.exec(String(pagesTree))?.[1];
    const start = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(first.toString('latin1'))?.[1];
    const root = document.context.trailerInfo.Root;
    const object = `${number} 0 obj\n<< /Type /Pages /Kids [] /Count 0 >>\nendobj\n`;
    const table = `xref\n${number} 1\n${String(first.length).padStart(10, '0')} 00000 n \n`;
    const trailer = `trailer\n<< /Size ${document.context.largestObjectNumber + 1} /Root ${root} /Prev ${start} >>\n`;
    const end = `${object}${table}${trailer}startxref\n${first.length + object.length}\n%%EOF\n`;
    const found = await read(Buffer.concat([first, Buffer.from(end, 'latin1')]));
    expect(found.hits.map(({ where }) => where)).toContain('earlier state 1, page 1, text');
  });
});

const WIDTH = 24;
const HEIGHT = 16;
const rgb = Buffer.from(Array.from({ length: WIDTH * HEIGHT * 3 }, (_, at) => (at * 37) & 255));
const grey = rgb.subarray(0, WIDTH * HEIGHT);
const bits = rgb.subarray(0, (WIDTH / 8) * HEIGHT);
const size = { Width: WIDTH, Height: HEIGHT };
const jpeg = await sharp(rgb, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })
  .jpeg()
  .toBuffer();

/** A lossless grey ramp of that size, written once by OpenJPEG's encoder. */
const JPEG_2000 =
  '/0//UQApAAAAAAAYAAAAEAAAAAAAAAAAAAAAGAAAABAAAAAAAAAAAAABBwEB/1IADAACAAEAAQQEAAH/XAAHQEBISFD/ZAAlAAFDcmVhdGVkIGJ5IE9wZW5KUEVHIHZlcnNpb24gMi41LjT/kAAKAAAAAABuAAH/k9+CWBIwx1pWqNL3hFoC6fXa8kMJoFpnq2XE1T/LoYT4l1fbjd/vy7PMDdrS3NFUkzKpTnOc6LhK3lk5CZ9buSgAAKIxoSaFYs6CfOVE38B8IkD5A4BLJVWPUipMCt9zg//Z';

/** Ways a PDF holds a picture; each draws it on the page, or hides it. */
const PICTURES: Record<
  string,
  (document: PDFDocument) => { XObject?: Record<string, PDFRef>; content: string }
> = {
  JPEG: (document) => {
    const X = rawPicture(document, jpeg, {
      ...size,
      ColorSpace: 'DeviceRGB',
      BitsPerComponent: 8,
      Filter: 'DCTDecode',
    });
    return { XObject: { X }, content: '/X Do' };
  },
  'packed colour samples': (document) => {
    const X = rawPicture(document, deflateSync(rgb), {
      ...size,
      ColorSpace: 'DeviceRGB',
      BitsPerComponent: 8,
      Filter: 'FlateDecode',
    });
    return { XObject: { X }, content: '/X Do' };
  },
  'grey samples as they are': (document) => {
    const X = rawPicture(document, grey, { ...size, ColorSpace: 'DeviceGray', BitsPerComponent: 8 });
    return { XObject: { X }, content: '/X Do' };
  },
  'one bit a pixel': (document) => {
    const X = rawPicture(document, bits, { ...size, ColorSpace: 'DeviceGray', BitsPerComponent: 1 });
    return { XObject: { X }, content: '/X Do' };
  },
  'a stencil': (document) => {
    const X = rawPicture(document, bits, { ...size, ImageMask: 'true', BitsPerComponent: 1 });
    (document.context.lookup(X) as PDFRawStream).dict.set(name('ImageMask'), document.context.obj(true));
    return { XObject: { X }, content: '/X Do' };
  },
  'JPEG 2000': (document) => {
    const X = rawPicture(document, Buffer.from(JPEG_2000, 'base64'), { ...size, Filter: 'JPXDecode' });
    return { XObject: { X }, content: '/X Do' };
  },
  'samples within the drawing': () => {
    const head = `BI /W ${WIDTH} /H ${HEIGHT} /CS /G /BPC 8 /F /AHx ID `;
    return { content: `${head}${grey.toString('hex')}> EI` };
  },
  'a picture that nothing draws': (document) => {
    rawPicture(document, jpeg, {
      ...size,
      ColorSpace: 'DeviceRGB',
      BitsPerComponent: 8,
      Filter: 'DCTDecode',
    });
    return { content: '' };
  },
  'the mask of another picture': (document) => {
    const mask = rawPicture(document, grey, { ...size, ColorSpace: 'DeviceGray', BitsPerComponent: 8 });
    const X = rawPicture(document, Buffer.alloc(48, 9), {
      Width: 4,
      Height: 4,
      ColorSpace: 'DeviceRGB',
      BitsPerComponent: 8,
    });
    (document.context.lookup(X) as PDFRawStream).dict.set(name('SMask'), mask);
    return { XObject: { X }, content: '/X Do' };
  },
};

async function pdfWith(how: string): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const page = document.addPage([100, 100]);
  const { XObject = {}, content } = PICTURES[how]!(document);
  page.node.set(name('Resources'), document.context.obj({ XObject }));
  const drawing = document.context.flateStream(`q 90 0 0 90 0 0 cm ${content} Q`);
  page.node.set(name('Contents'), document.context.register(drawing));
  return saved(document);
}

describe('pictures in a PDF', () => {
  it.each(Object.keys(PICTURES))('are handed to the text finder: %s', async (how) => {
    const tools = reader([{ text: 'TESTCASE' }]);
    const found = await read(await pdfWith(how), TERMS, tools);
    expect(tools.seen.some((one) => one.startsWith(`${WIDTH}x${HEIGHT}x`))).toBe(true);
    expect(kindsOf(found)).toContain('patient-name');
    expect(found.unread).toEqual([]);
    expect(found.hits[0]?.where).toMatch(/picture 1, pixels at 10,20$/);
  });

  it('are decoded as a decoder of pictures decodes them', async () => {
    let seen: Uint8Array | null = null;
    const tools = {
      ...reader([]),
      searchTexts: async ({ data }: { data: Uint8Array }) => {
        seen = data;
        return [];
      },
    };
    await read(await pdfWith('packed colour samples'), TERMS, tools);
    expect(Buffer.from(seen!)).toEqual(rgb);
  });

  it('are searched once, however often they are drawn', async () => {
    const { document, page } = await plainPdf();
    const picture = await document.embedJpg(jpeg);
    for (const x of [0, 50, 100]) page.drawImage(picture, { x, y: 0, width: 40, height: 30 });
    document.addPage([300, 300]).drawImage(picture, { x: 0, y: 0, width: 40, height: 30 });
    const tools = reader([]);
    await read(await saved(document), TERMS, tools);
    expect(tools.seen).toHaveLength(1);
  });

  it('carry their own metadata, which is read', async () => {
    const withArtist = await sharp(jpeg)
      .withExif({ IFD0: { Artist: 'Rowan Testcase' } })
      .jpeg()
      .toBuffer();
    const { document, page } = await plainPdf();
    page.drawImage(await document.embedJpg(withArtist), { x: 0, y: 0, width: 40, height: 30 });
    const found = await read(await saved(document));
    expect(found.hits).toContainEqual({
      file: 'file',
      where: 'picture, metadata ifd0 Artist',
      kind: 'patient-name',
    });
  });

  it('that cannot be decoded leave the file unread', async () => {
    const document = await PDFDocument.create({ updateMetadata: false });
    const page = document.addPage([100, 100]);
    const broken = rawPicture(document, Buffer.from('no picture'), {
      ...size,
      ColorSpace: 'DeviceRGB',
      BitsPerComponent: 8,
      Filter: 'JPXDecode',
    });
    page.node.set(name('Resources'), document.context.obj({ XObject: { X: broken } }));
    page.node.set(name('Contents'), document.context.register(document.context.flateStream('/X Do')));
    expect((await read(await saved(document))).unread).not.toEqual([]);
  });
});

describe('a PDF that cannot be read', () => {
  it('is unread when it is cut off before its pages, or no PDF after its first line', async () => {
    const pdf = Buffer.from(await sheetWithName());
    for (const bytes of [pdf.subarray(0, 400), Buffer.from('%PDF-1.7\nnothing\n%%EOF\n')]) {
      expect((await read(bytes)).unread).not.toEqual([]);
    }
  });

  withPeer('qpdf', 'is unread when it is encrypted, with or without a password to open it', async () => {
    const plain = inFile(await saved((await plainPdf()).document));
    for (const password of ['', 'secret']) {
      const locked = `${plain}.locked.pdf`;
      execFileSync('qpdf', ['--encrypt', password, 'owner', '256', '--', plain, locked]);
      expect((await read(readFileSync(locked))).unread).not.toEqual([]);
    }
  });

  withPeer('qpdf', 'is read when it is written for the web', async () => {
    const plain = inFile(await saved((await plainPdf()).document));
    execFileSync('qpdf', ['--linearize', plain, `${plain}.web.pdf`]);
    expect(await read(readFileSync(`${plain}.web.pdf`))).toEqual({ hits: [], possible: [], unread: [] });
  });
});
