import type { PDFPageProxy } from 'pdfjs-dist';
import type { FinderPicture } from '../../../../finders/finder.js';
import { asPicture } from '../pictures/decode-pages.js';

/** A decoded picture as the reader keeps it. `kind`: 1 one bit a pixel, 2 RGB, 3 RGBA (pdf.js, ImageKind). */
interface Decoded {
  data: Uint8Array | Uint8ClampedArray | string | null;
  width: number;
  height: number;
  kind?: number;
}

/** Every picture a page draws, decoded by the reader of PDF: JPEG, JPEG 2000, fax, raw samples, inline. Null: not decoded. */
export async function* picturesOn(page: PDFPageProxy): AsyncGenerator<FinderPicture | null> {
  const { OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const { fnArray, argsArray } = await page.getOperatorList();
  const painting = new Set<number>([
    OPS.paintImageXObject,
    OPS.paintImageXObjectRepeat,
    OPS.paintInlineImageXObject,
    OPS.paintInlineImageXObjectGroup,
    OPS.paintImageMaskXObject,
    OPS.paintImageMaskXObjectGroup,
    OPS.paintImageMaskXObjectRepeat,
  ]);
  const seen = new Set<string>();
  for (const [at, operator] of fnArray.entries()) {
    if (!painting.has(operator)) continue;
    for (const one of [argsArray[at]].flat(3) as unknown[]) {
      if (typeof one === 'string' && !seen.has(one)) {
        seen.add(one);
        yield toPicture(await fetched(page, one));
      } else if (isDecoded(one)) {
        yield toPicture(typeof one.data === 'string' ? await fetched(page, one.data) : one);
      }
    }
  }
}

const isDecoded = (value: unknown): value is Decoded =>
  typeof value === 'object' && value !== null && 'width' in value && 'height' in value && 'data' in value;

/** Pictures that several pages show are kept with the document, the others with the page. */
const fetched = (page: PDFPageProxy, id: string): Promise<unknown> =>
  new Promise((resolve) => {
    const store = id.startsWith('g_') ? page.commonObjs : page.objs;
    store.get(id, resolve);
  });

function toPicture(value: unknown): FinderPicture | null {
  if (!isDecoded(value) || value.data === null || typeof value.data === 'string') return null;
  const { data, width, height } = value;
  if (data.length === 0) return null;
  const bytes = new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
  const perPixel = bytes.length / (width * height);
  if (perPixel < 1) return unpackBits(bytes, width, height);
  return Number.isInteger(perPixel) && perPixel <= 4 ? asPicture(bytes, width, height, perPixel) : null;
}

/** One bit a pixel, rows filled up to whole bytes. */
function unpackBits(bytes: Uint8Array, widthPx: number, heightPx: number): FinderPicture | null {
  const rowBytes = Math.ceil(widthPx / 8);
  if (bytes.length < rowBytes * heightPx) return null;
  const data = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y += 1) {
    for (let x = 0; x < widthPx; x += 1) {
      const bit = (bytes[y * rowBytes + (x >> 3)]! >> (7 - (x & 7))) & 1;
      data[y * widthPx + x] = bit * 255;
    }
  }
  return { data, widthPx, heightPx, channels: 1 };
}
