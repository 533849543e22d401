import {
  PDFDocument,
  PDFHexString,
  PDFName,
  type PDFPage,
  PDFRawStream,
  PDFString,
  StandardFonts,
} from 'pdf-lib';

const name = (text: string) => PDFName.of(text);

/** A one-page PDF without anything that identifies. */
export async function plainPdf(): Promise<{ document: PDFDocument; page: PDFPage }> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const page = document.addPage([300, 300]);
  const font = await document.embedFont(StandardFonts.Helvetica);
  page.drawText('A sheet', { x: 20, y: 250, size: 12, font });
  return { document, page };
}

export const saved = (document: PDFDocument): Promise<Uint8Array> =>
  document.save({ useObjectStreams: true });

/** The places of a PDF that hold text without drawing it; each takes one value and gives the file. */
export const IN_OBJECTS: Record<string, (value: string) => Promise<Uint8Array>> = {
  'Info dictionary': async (value) => {
    const { document } = await plainPdf();
    document.setAuthor(value);
    return saved(document);
  },
  'XMP packet': async (value) => {
    const { document } = await plainPdf();
    const packet = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description><creator>${value}</creator></rdf:Description></rdf:RDF></x:xmpmeta>`;
    const ref = document.context.register(
      document.context.flateStream(packet, { Type: 'Metadata', Subtype: 'XML' }),
    );
    document.catalog.set(name('Metadata'), ref);
    return saved(document);
  },
  'bookmark in UTF-16': async (value) => {
    const { document } = await plainPdf();
    const item = document.context.register(document.context.obj({ Title: PDFHexString.fromText(value) }));
    document.catalog.set(
      name('Outlines'),
      document.context.register(document.context.obj({ First: item, Last: item, Count: 1 })),
    );
    return saved(document);
  },
  'alternative text': async (value) => {
    const { document } = await plainPdf();
    const element = document.context.register(
      document.context.obj({ Type: 'StructElem', S: 'Figure', Alt: PDFHexString.fromText(value) }),
    );
    document.catalog.set(
      name('StructTreeRoot'),
      document.context.register(document.context.obj({ Type: 'StructTreeRoot', K: element })),
    );
    return saved(document);
  },
  'note on a page': async (value) => {
    const { document, page } = await plainPdf();
    const note = document.context.register(
      document.context.obj({
        Type: 'Annot',
        Subtype: 'Text',
        Rect: [0, 0, 10, 10],
        Contents: PDFString.of(value),
      }),
    );
    page.node.set(name('Annots'), document.context.obj([note]));
    return saved(document);
  },
  'form field': async (value) => {
    const { document, page } = await plainPdf();
    const field = document.getForm().createTextField('field');
    field.setText(value);
    field.addToPage(page, { x: 10, y: 10, width: 200, height: 20 });
    return document.save({ useObjectStreams: true });
  },
  attachment: async (value) => {
    const { document } = await plainPdf();
    await document.attach(Buffer.from(`Notes: ${value}`), 'notes.txt', { mimeType: 'text/plain' });
    return saved(document);
  },
  'name of an attachment': async (value) => {
    const { document } = await plainPdf();
    await document.attach(Buffer.from('nothing'), `${value}.txt`, {});
    return saved(document);
  },
  script: async (value) => {
    const { document } = await plainPdf();
    document.addJavaScript('greeting', `app.alert("${value}")`);
    return saved(document);
  },
  'name object': async (value) => {
    const { document } = await plainPdf();
    document.catalog.set(name('PieceInfo'), document.context.obj({ [value.replace(' ', '')]: true }));
    return saved(document);
  },
  'private stream': async (value) => {
    const { document } = await plainPdf();
    document.context.register(document.context.flateStream(`page data of ${value}`));
    return saved(document);
  },
  'replacement text in a drawing': async (value) => {
    const { document, page } = await plainPdf();
    const hex = PDFHexString.fromText(value).toString();
    page.node.addContentStream(
      document.context.register(document.context.flateStream(`/Span <</ActualText ${hex}>> BDC EMC`)),
    );
    return saved(document);
  },
  'earlier state of the file': async (value) => {
    const { document } = await plainPdf();
    document.setAuthor(value);
    const first = Buffer.from(await document.save({ useObjectStreams: false }));
    const text = first.toString('latin1');
    const [, number = ''] = /(\d+) 0 obj\s*<<[^>]*\/Author/.exec(text) ?? [];
    const start = /startxref\s+(\d+)/.exec(text)?.[1];
    const [trailer = ''] = /trailer\s*<<[\s\S]*?>>/.exec(text) ?? [];
    const at = first.length + 1;
    const table = `xref\n${number} 1\n${String(at).padStart(10, '0')} 00000 n \n`;
    const object = `\n${number} 0 obj\n<< /Title (A sheet) >>\nendobj\n`;
    const end = `${table}${trailer.replace('>>', `/Prev ${start} >>`)}\nstartxref\n${at + object.length - 1}\n%%EOF\n`;
    return Buffer.concat([first, Buffer.from(object + end, 'latin1')]);
  },
};

/** Raw stream under a dictionary, for pictures of any filter. */
export function rawPicture(
  document: PDFDocument,
  contents: Uint8Array,
  entries: Record<string, string | number>,
) {
  const dict = document.context.obj({ Type: 'XObject', Subtype: 'Image', ...entries });
  return document.context.register(PDFRawStream.of(dict, contents));
}
