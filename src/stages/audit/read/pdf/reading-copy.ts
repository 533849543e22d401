import { PDFDict, type PDFDocument, PDFName, type PDFObject, PDFRawStream, PDFRef } from 'pdf-lib';
import { held, kept, type Outcome } from '../../../../core/outcome.js';

/** Points; text further out is drawn by nobody's printer either. */
const FAR = 1_000_000;

const name = (text: string) => PDFName.of(text);
const nameAt = (dict: PDFDict, key: string): string => {
  const found = dict.get(name(key));
  return found instanceof PDFName ? found.decodeText() : '';
};

/**
 * The same document with pages so large that nothing lies outside them, and one page more for each drawing and picture
 * in the file: what is hidden in a layer, cut off, covered, in the appearance of a note, or led to by nothing is then
 * read as drawn. Changes `document`.
 * @returns the file, and what each of its pages is called
 */
export async function readingCopy(
  document: PDFDocument,
): Promise<Outcome<{ bytes: Uint8Array; pages: string[] }>> {
  try {
    const { context } = document;
    const pages = document.getPages().map((_, at) => `page ${at + 1}`);
    const boxes = context.obj([-FAR, -FAR, FAR, FAR]);
    let fonts: PDFObject | undefined;
    for (const page of document.getPages()) {
      page.node.set(name('MediaBox'), boxes);
      for (const key of ['CropBox', 'Rotate', 'TrimBox', 'ArtBox', 'BleedBox', 'UserUnit'])
        page.node.delete(name(key));
      fonts ??= page.node.Resources()?.lookup(name('Font'));
    }
    const drawings = drawingsOf(document);
    for (const { ref, what } of drawings) {
      const page = document.addPage([200, 200]);
      page.node.set(name('MediaBox'), boxes);
      const resources = context.obj({ XObject: { X: ref } });
      if (fonts) resources.set(name('Font'), fonts);
      page.node.set(name('Resources'), resources);
      page.node.set(name('Contents'), context.register(context.stream('q 100 0 0 100 0 0 cm /X Do Q')));
      pages.push(what);
    }
    document.catalog.delete(name('OCProperties'));
    return kept({
      bytes: await document.save({ useObjectStreams: false, updateFieldAppearances: false }),
      pages,
    });
  } catch {
    return held({ code: 'damaged', format: 'PDF', what: 'its pages cannot be read' });
  }
}

interface Drawing {
  ref: PDFRef;
  what: string;
}

/** Forms (also those of notes), patterns and pictures; a layer's mark on them is taken off. */
function drawingsOf(document: PDFDocument): Drawing[] {
  const { context } = document;
  const found: Drawing[] = [];
  let pictures = 0;
  let forms = 0;
  for (const [ref, object] of context.enumerateIndirectObjects()) {
    if (object instanceof PDFDict) found.push(...glyphDrawings(document, object));
    if (!(object instanceof PDFRawStream)) continue;
    const { dict } = object;
    dict.delete(name('OC'));
    const isPattern = dict.get(name('PatternType')) !== undefined && dict.get(name('BBox')) !== undefined;
    if (nameAt(dict, 'Subtype') === 'Image') {
      pictures += 1;
      found.push({ ref, what: `picture ${pictures}` });
    } else if (nameAt(dict, 'Subtype') === 'Form') {
      forms += 1;
      dict.set(name('BBox'), context.obj([-FAR, -FAR, FAR, FAR]));
      found.push({ ref, what: `drawing ${forms}` });
    } else if (isPattern) {
      forms += 1;
      found.push({ ref: asForm(document, object), what: `drawing ${forms}` });
    }
  }
  return found;
}

function asForm(document: PDFDocument, stream: PDFRawStream, resources?: PDFObject): PDFRef {
  const { context } = document;
  const dict = stream.dict.clone(context);
  for (const key of ['PatternType', 'PaintType', 'TilingType', 'XStep', 'YStep', 'Matrix'])
    dict.delete(name(key));
  dict.set(name('Type'), name('XObject'));
  dict.set(name('Subtype'), name('Form'));
  dict.set(name('BBox'), context.obj([-FAR, -FAR, FAR, FAR]));
  if (resources) dict.set(name('Resources'), resources);
  return context.register(PDFRawStream.of(dict, stream.contents));
}

/** The glyphs of a Type 3 font are drawings with the font's own resources: pictures may stand in them. */
function glyphDrawings(document: PDFDocument, font: PDFDict): Drawing[] {
  if (nameAt(font, 'Subtype') !== 'Type3') return [];
  const glyphs = font.lookup(name('CharProcs'));
  const resources = font.get(name('Resources'));
  if (!(glyphs instanceof PDFDict)) return [];
  return glyphs.values().flatMap((one) => {
    const stream = one instanceof PDFRef ? document.context.lookup(one) : one;
    return stream instanceof PDFRawStream
      ? [{ ref: asForm(document, stream, resources), what: 'glyph of a font' }]
      : [];
  });
}
