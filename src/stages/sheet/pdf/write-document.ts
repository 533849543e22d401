import { createHash } from 'node:crypto';
import { PDFDocument, PDFHexString, PDFName, type PDFRef, PDFString } from 'pdf-lib';
import type { Bookmark, FlowedPage } from '../layout/flow.js';
import type { FontBook } from '../layout/font-book.js';
import type { Tag } from '../layout/marks.js';
import { embedJpeg, type SheetPicture } from './embed-jpeg.js';
import { EmbeddedFont } from './embedded-font.js';
import { writeOutline } from './outline.js';
import { pageContent } from './page-content.js';
import { MarkedPlaces, writeStructure } from './structure-tree.js';

/** Pages as they are laid out, ready to be written. */
export interface LaidOut {
  pages: readonly FlowedPage[];
  bookmarks: readonly Bookmark[];
  structure: Tag;
  widthPt: number;
  heightPt: number;
  /** BCP 47, e.g. "en". */
  language: string;
  /** De-identified text that the document's identifier follows from. */
  identity: string;
}

/**
 * A tagged PDF with outline and page labels, and without an Info dictionary, dates or chance: the same pages give the
 * same bytes. Throws when a picture is missing, which is a bug of the caller.
 */
export async function writeDocument(
  laid: LaidOut,
  fonts: FontBook,
  pictures: ReadonlyMap<number, SheetPicture>,
  options: { wholeFonts?: boolean } = {},
): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const { context, catalog } = document;
  const faces = {
    regular: new EmbeddedFont(fonts.fonts.regular, context.nextRef(), options.wholeFonts),
    semibold: new EmbeddedFont(fonts.fonts.semibold, context.nextRef(), options.wholeFonts),
  };
  const places = new MarkedPlaces();
  const images = new Map<number, PDFRef>();
  const pages = laid.pages.map((page, index) => {
    const used = new Set<number>();
    const content = pageContent(page.marks, laid.heightPt, {
      show: (text, weight, sizePt) => faces[weight].show(text, sizePt),
      imageName: (number) => {
        used.add(number);
        return `I${number}`;
      },
      mark: (tag) => places.mark(tag, index),
    });
    const xObjects = context.obj({});
    for (const number of used) {
      const picture = pictures.get(number);
      if (!picture) throw new Error(`no picture ${number} was given for the sheet`);
      const ref = images.get(number) ?? embedJpeg(context, picture);
      images.set(number, ref);
      xObjects.set(PDFName.of(`I${number}`), ref);
    }
    const leaf = document.addPage([laid.widthPt, laid.heightPt]);
    leaf.node.set(PDFName.of('Contents'), context.register(context.flateStream(content)));
    leaf.node.set(
      PDFName.of('Resources'),
      context.obj({ Font: { F1: faces.regular.ref, F2: faces.semibold.ref }, XObject: xObjects }),
    );
    leaf.node.set(PDFName.of('StructParents'), context.obj(index));
    leaf.node.set(PDFName.of('Tabs'), PDFName.of('S'));
    return leaf.ref;
  });
  faces.regular.write(context);
  faces.semibold.write(context);
  catalog.set(PDFName.of('StructTreeRoot'), writeStructure(context, laid.structure, places, pages));
  catalog.set(PDFName.of('MarkInfo'), context.obj({ Marked: true }));
  catalog.set(PDFName.of('Lang'), PDFString.of(laid.language));
  catalog.set(PDFName.of('PageLabels'), context.obj({ Nums: [0, { S: 'D' }] }));
  const outline = writeOutline(context, laid.bookmarks, pages, laid.heightPt);
  if (outline) catalog.set(PDFName.of('Outlines'), outline);
  const id = PDFHexString.of(createHash('sha256').update(laid.identity).digest('hex').slice(0, 32));
  context.trailerInfo.ID = context.obj([id, id]);
  return document.save({ useObjectStreams: true, addDefaultPage: false, updateFieldAppearances: false });
}
