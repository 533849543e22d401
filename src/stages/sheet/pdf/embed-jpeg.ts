import type { PDFContext, PDFRef } from 'pdf-lib';

/** Picture bytes as the sheet takes them. */
export interface SheetPicture {
  jpeg: Uint8Array;
  widthPx: number;
  heightPx: number;
}

/** APP0 (JFIF), APP2 (colour profile) and APP14 (Adobe transform) say how to show pixels; nothing else may pass. */
const ALLOWED_APPS = new Set([0xe0, 0xe2, 0xee]);
const FRAMES = new Set([0xc0, 0xc1, 0xc2]);

/**
 * Puts a JPEG into the document byte for byte. Throws when it carries anything that could identify: a sheet is drawn
 * from reduced display pictures, never from an original, so metadata here is a bug upstream.
 */
export function embedJpeg(context: PDFContext, { jpeg }: SheetPicture): PDFRef {
  const frame = readFrame(jpeg);
  return context.register(
    context.stream(jpeg, {
      Type: 'XObject',
      Subtype: 'Image',
      Width: frame.widthPx,
      Height: frame.heightPx,
      ColorSpace: frame.channels === 1 ? 'DeviceGray' : 'DeviceRGB',
      BitsPerComponent: 8,
      Filter: 'DCTDecode',
    }),
  );
}

function readFrame(jpeg: Uint8Array): { widthPx: number; heightPx: number; channels: number } {
  const view = new DataView(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength);
  let frame: { widthPx: number; heightPx: number; channels: number } | null = null;
  let at = 2;
  while (at + 4 <= jpeg.length && jpeg[at] === 0xff) {
    const marker = jpeg[at + 1]!;
    if (marker === 0xda) break;
    const isApp = marker >= 0xe0 && marker <= 0xef;
    if ((isApp && !ALLOWED_APPS.has(marker)) || marker === 0xfe)
      throw new Error('a picture for a sheet carries metadata');
    if (FRAMES.has(marker))
      frame = { heightPx: view.getUint16(at + 5), widthPx: view.getUint16(at + 7), channels: jpeg[at + 9]! };
    at += 2 + view.getUint16(at + 2);
  }
  if (frame === null || (frame.channels !== 1 && frame.channels !== 3))
    throw new Error('a picture for a sheet is not a grey or colour JPEG');
  return frame;
}
