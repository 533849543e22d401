import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface ReadText {
  text: string;
  xPt: number;
  yPt: number;
  widthPt: number;
  sizePt: number;
}

export interface ReadPage {
  widthPt: number;
  heightPt: number;
  texts: ReadText[];
  /** Lower left corner and size of every picture, points, y up. */
  images: { xPt: number; yPt: number; widthPt: number; heightPt: number }[];
  /** Fill colours under which text was shown, "#rrggbb". */
  textColours: string[];
}

export async function open(pdf: Uint8Array) {
  return getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
}

/** What another program's reader (pdfjs) finds on each page. */
export async function readPages(pdf: Uint8Array): Promise<ReadPage[]> {
  const document = await open(pdf);
  const pages: ReadPage[] = [];
  for (let at = 1; at <= document.numPages; at += 1) {
    const page = await document.getPage(at);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const texts = items.flatMap((item) =>
      'str' in item && item.str.trim() !== ''
        ? [
            {
              text: item.str,
              xPt: item.transform[4],
              yPt: item.transform[5],
              widthPt: item.width,
              sizePt: Math.abs(item.transform[3]),
            },
          ]
        : [],
    );
    pages.push({ widthPt: width, heightPt: height, texts, ...(await graphics(page)) });
  }
  await document.destroy();
  return pages;
}

type Page = Awaited<ReturnType<Awaited<ReturnType<typeof open>>['getPage']>>;

async function graphics(page: Page): Promise<Pick<ReadPage, 'images' | 'textColours'>> {
  const { fnArray, argsArray } = await page.getOperatorList();
  const images: ReadPage['images'] = [];
  const colours = new Set<string>();
  let matrix = [1, 0, 0, 1, 0, 0];
  let fill = '#000000';
  fnArray.forEach((operator, index) => {
    const args = argsArray[index];
    if (operator === OPS.transform) matrix = args as number[];
    if (operator === OPS.setFillRGBColor) fill = String(args[0]);
    if (operator === OPS.showText) colours.add(fill);
    if (operator === OPS.paintImageXObject)
      images.push({ xPt: matrix[4]!, yPt: matrix[5]!, widthPt: matrix[0]!, heightPt: matrix[3]! });
  });
  return { images, textColours: [...colours] };
}
