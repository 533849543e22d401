import { create, type Font } from 'fontkit';
import type { Weight } from './marks.js';

/** The two fonts a sheet is set in, as TrueType files. */
export interface FontBytes {
  regular: Uint8Array;
  semibold: Uint8Array;
}

/** Measures text. Widths of words are kept, since measuring is the slow part of layout. */
export interface FontBook {
  fonts: Record<Weight, Font>;
  /** Width in points of a string without line breaks. */
  measure(text: string, weight: Weight, sizePt: number): number;
  has(codePoint: number): boolean;
}

/** Figures of equal width, so that columns line up; no ligatures, so that text is copied out as it was written. */
export const FEATURES = { tnum: true, liga: false, clig: false } as const;

export function openFonts(bytes: FontBytes): FontBook {
  const fonts = { regular: open(bytes.regular), semibold: open(bytes.semibold) };
  const widths = new Map<string, number>();
  return {
    fonts,
    measure(text, weight, sizePt) {
      const key = `${weight}:${text}`;
      let ems = widths.get(key);
      if (ems === undefined) {
        const font = fonts[weight];
        ems = font.layout(text, FEATURES).advanceWidth / font.unitsPerEm;
        widths.set(key, ems);
      }
      return ems * sizePt;
    },
    has: (codePoint) =>
      fonts.regular.hasGlyphForCodePoint(codePoint) && fonts.semibold.hasGlyphForCodePoint(codePoint),
  };
}

function open(bytes: Uint8Array): Font {
  const font = create(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  if (!('layout' in font)) throw new Error('a font collection is not a font');
  return font;
}
