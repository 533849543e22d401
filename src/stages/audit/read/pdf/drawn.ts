import type { PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist';
import { held, kept, type Outcome } from '../../../../core/outcome.js';
import { type Reading, within } from '../../reading.js';
import { picturesOn } from './page-pictures.js';

const damaged = (what: string) => ({ code: 'damaged', format: 'PDF', what }) as const;

/**
 * Text and pictures of each page as a reader of PDF draws them, whatever their colour, layer or place. The text is
 * searched as lines and run together, since a name may be set letter by letter or broken over a line.
 */
export async function readDrawn(
  reading: Reading,
  pdf: Uint8Array,
  where: string,
  nameOf: (page: number) => string,
): Promise<Outcome<null>> {
  const opened = await open(pdf, reading);
  if (opened.kind !== 'kept') return opened;
  const document = opened.value;
  try {
    for (let number = 1; number <= document.numPages; number += 1) {
      const place = within(where, nameOf(number));
      if (!reading.enter(place)) break;
      await readPage(reading, document, number, place);
    }
  } finally {
    await document.destroy();
  }
  return kept(null);
}

async function open(pdf: Uint8Array, { tools }: Reading): Promise<Outcome<PDFDocumentProxy>> {
  const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const folder = tools.pdfReaderFolder;
  try {
    const task = getDocument({
      // The reader takes the bytes away from whoever hands them over.
      data: new Uint8Array(pdf),
      verbosity: 0,
      isEvalSupported: false,
      disableFontFace: true,
      useSystemFonts: false,
      isOffscreenCanvasSupported: false,
      isImageDecoderSupported: false,
      maxImageSize: tools.pixelLimit,
      canvasMaxAreaInBytes: -1,
      cMapUrl: `${folder}/cmaps/`,
      cMapPacked: true,
      standardFontDataUrl: `${folder}/standard_fonts/`,
      wasmUrl: `${folder}/wasm/`,
      iccUrl: `${folder}/iccs/`,
    });
    return kept(await task.promise);
  } catch (error) {
    const locked = error instanceof Error && error.name === 'PasswordException';
    return held(
      locked ? { code: 'unusual', format: 'PDF', what: 'it is encrypted' } : damaged('it cannot be opened'),
    );
  }
}

async function readPage(
  reading: Reading,
  document: PDFDocumentProxy,
  number: number,
  where: string,
): Promise<void> {
  let page: PDFPageProxy;
  try {
    page = await document.getPage(number);
    await readWords(reading, page, where);
  } catch {
    reading.unread(where, damaged('a page cannot be read'));
    return;
  }
  let count = 0;
  for await (const picture of picturesOn(page)) {
    count += 1;
    const place = /picture/.test(where) ? where : within(where, `picture ${count}`);
    if (picture === null) reading.unread(place, damaged('a picture on a page cannot be read'));
    else await reading.picture(place, picture);
  }
  page.cleanup();
}

async function readWords(reading: Reading, page: PDFPageProxy, where: string): Promise<void> {
  const { items } = await page.getTextContent({ disableNormalization: true });
  const words = items.flatMap((item) => ('str' in item ? [item] : []));
  const place = within(where, 'text');
  const lines = words.map(({ str, hasEOL }) => (hasEOL ? `${str}\n` : str));
  reading.text(place, lines.join(''));
  reading.text(place, words.map(({ str }) => str).join(' '));
  const unbroken = reading.mask(lines.join('')).replace(/[-\u00ad\u2010]?\s*\n/g, '');
  reading.text(place, unbroken, { ofProgram: true });
}
