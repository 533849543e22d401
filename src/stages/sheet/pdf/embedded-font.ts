import { createHash } from 'node:crypto';
import type { Font, Glyph } from 'fontkit';
import { type PDFContext, PDFHexString, PDFName, type PDFRef } from 'pdf-lib';
import { FEATURES } from '../layout/font-book.js';

/** fontkit 2.0.4's subset as it is; its published types lag behind. */
interface Subset {
  includeGlyph(glyphId: number): number;
  encode(): Uint8Array;
}

/**
 * A font embedded as a subset (Type 0, Identity-H, TrueType outlines) through fontkit itself: subsets made by the
 * copy of it that pdf-lib knows lose glyphs of many fonts. Kerning and marks keep the places fontkit gives them.
 */
export class EmbeddedFont {
  readonly #font: Font;
  readonly #subset: Subset;
  /** Glyphs by their number in the subset. */
  readonly #glyphs = new Map<number, Glyph>();

  /** @param whole embeds every glyph: only to compare a rendered subset with the full font. */
  constructor(
    font: Font,
    readonly ref: PDFRef,
    whole = false,
  ) {
    this.#font = font;
    this.#subset = font.createSubset() as unknown as Subset;
    if (whole) for (let id = 0; id < font.numGlyphs; id += 1) this.#subset.includeGlyph(id);
  }

  /** Operators that show the text at the current place; sizes in thousandths of the em, as TJ has them. */
  show(text: string, sizePt: number): string {
    // A no-break space has done its work in layout; a plain one is found again by whoever searches the text.
    const { glyphs, positions } = this.#font.layout(text.replaceAll('\u00a0', ' '), FEATURES);
    const perMille = 1000 / this.#font.unitsPerEm;
    let out = '';
    let array = '';
    let risePt = 0;
    const flush = () => {
      if (array !== '') out += `[${array}] TJ\n`;
      array = '';
    };
    glyphs.forEach((glyph, index) => {
      const at = positions[index]!;
      const rise = (at.yOffset * sizePt) / this.#font.unitsPerEm;
      if (rise !== risePt) {
        flush();
        out += `${number(rise)} Ts\n`;
        risePt = rise;
      }
      if (at.xOffset !== 0) array += `${number(-at.xOffset * perMille)} `;
      array += `<${this.#code(glyph)}>`;
      const restPt = (glyph.advanceWidth + at.xOffset - at.xAdvance) * perMille;
      if (Math.abs(restPt) > 0.01) array += ` ${number(restPt)} `;
    });
    flush();
    return risePt === 0 ? out : `${out}0 Ts\n`;
  }

  #code(glyph: Glyph): string {
    const id = this.#subset.includeGlyph(glyph.id);
    if (!this.#glyphs.has(id)) this.#glyphs.set(id, glyph);
    return id.toString(16).padStart(4, '0').toUpperCase();
  }

  /** Writes the font's objects once all text is known. */
  write(context: PDFContext): void {
    const font = this.#font;
    const used = [...this.#glyphs].toSorted(([a], [b]) => a - b);
    const letters = used.map(([, glyph]) => glyph.id).join(',');
    const name = `${subsetPrefix(letters)}+${font.postscriptName}`;
    const per = (units: number) => Math.round((units * 1000) / font.unitsPerEm);
    const file = Buffer.from(this.#subset.encode());
    const fontFile = context.register(context.flateStream(file, { Length1: file.length }));
    const descriptor = context.register(
      context.obj({
        Type: 'FontDescriptor',
        FontName: name,
        Flags: 32,
        FontBBox: [font.bbox.minX, font.bbox.minY, font.bbox.maxX, font.bbox.maxY].map(per),
        ItalicAngle: font.italicAngle,
        Ascent: per(font.ascent),
        Descent: per(font.descent),
        CapHeight: per(font.capHeight),
        StemV: 80,
        FontFile2: fontFile,
      }),
    );
    const descendant = context.register(
      context.obj({
        Type: 'Font',
        Subtype: 'CIDFontType2',
        BaseFont: name,
        CIDSystemInfo: {
          Registry: PDFHexString.of(hexOf('Adobe')),
          Ordering: PDFHexString.of(hexOf('Identity')),
          Supplement: 0,
        },
        FontDescriptor: descriptor,
        CIDToGIDMap: 'Identity',
        DW: 0,
        W: used.flatMap(([id, glyph]) => [
          id,
          [Math.round(glyph.advanceWidth * (1000 / font.unitsPerEm) * 100) / 100],
        ]),
      }),
    );
    const toUnicode = context.register(context.flateStream(unicodeMap(used)));
    context.assign(
      this.ref,
      context.obj({
        Type: PDFName.of('Font'),
        Subtype: 'Type0',
        BaseFont: name,
        Encoding: 'Identity-H',
        DescendantFonts: [descendant],
        ToUnicode: toUnicode,
      }),
    );
  }
}

/** Six capitals that follow from the glyphs used (ISO 32000-1, 9.6.4 asks for a prefix, not for chance). */
function subsetPrefix(glyphs: string): string {
  const digest = createHash('sha256').update(glyphs).digest();
  return Array.from(digest.subarray(0, 6), (byte) => String.fromCharCode(65 + (byte % 26))).join('');
}

const hexOf = (text: string): string => Buffer.from(text, 'latin1').toString('hex');

/** At most four decimals and no exponent, as PDF numbers are written. */
export function number(value: number): string {
  const text = value.toFixed(4).replace(/\.?0+$/, '');
  return text === '-0' || text === '' ? '0' : text;
}

const utf16 = (codePoints: readonly number[]): string =>
  [...String.fromCodePoint(...codePoints)]
    .flatMap((char) => Array.from({ length: char.length }, (_, index) => char.charCodeAt(index)))
    .map((unit) => unit.toString(16).padStart(4, '0'))
    .join('');

/** A ToUnicode CMap, in blocks of at most 100 as the CMap format asks. */
function unicodeMap(used: readonly (readonly [number, Glyph])[]): string {
  const lines = used
    .filter(([, glyph]) => glyph.codePoints.length > 0)
    .map(([id, glyph]) => `<${id.toString(16).padStart(4, '0')}> <${utf16(glyph.codePoints)}>`);
  const blocks: string[] = [];
  for (let start = 0; start < lines.length; start += 100) {
    const part = lines.slice(start, start + 100);
    blocks.push(`${part.length} beginbfchar\n${part.join('\n')}\nendbfchar`);
  }
  return [
    '/CIDInit /ProcSet findresource begin 12 dict begin begincmap',
    '/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def',
    '/CMapName /Adobe-Identity-UCS def /CMapType 2 def',
    '1 begincodespacerange <0000> <ffff> endcodespacerange',
    ...blocks,
    'endcmap CMapName currentdict /CMap defineresource pop end end',
  ].join('\n');
}
