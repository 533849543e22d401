/**
 * Burns lines of text into a drawn film, as a capture program prints them into a corner. Comes in: a picture file and
 * the lines. Leaves: the same kind of file with the letters in its pixels. Letters are outlines of Source Sans 3
 * (SIL Open Font License), so that the same samples come out on every machine.
 */
import { createRequire } from 'node:module';
import { type Font, openSync } from 'fontkit';
import sharp from 'sharp';

const FONT = '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf';

export interface Burned {
  lines: readonly string[];
  /** Left edge and first baseline, in pixels. */
  xPx: number;
  yPx: number;
  sizePx: number;
}

/** One line as an SVG path, y down. */
function outlineOf(font: Font, line: string, { xPx, yPx, sizePx }: Omit<Burned, 'lines'>): string {
  const scale = sizePx / font.unitsPerEm;
  const { glyphs, positions } = font.layout(line);
  let penX = xPx;
  return glyphs
    .map((glyph, at) => {
      const path = glyph.path.scale(scale, -scale).translate(penX, yPx).toSVG();
      penX += (positions[at]?.xAdvance ?? 0) * scale;
      return path;
    })
    .join(' ');
}

/** White letters with a dark edge, so that they can be read over anything. */
export async function burnText(bytes: Uint8Array, burned: Burned): Promise<Uint8Array> {
  const font = openSync(createRequire(import.meta.url).resolve(FONT)) as Font;
  const picture = sharp(bytes);
  const { width, height, format } = await picture.metadata();
  const leadingPx = burned.sizePx * 1.25;
  const paths = burned.lines.map((line, at) =>
    outlineOf(font, line, { ...burned, yPx: burned.yPx + at * leadingPx }),
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><path d="${paths.join(' ')}" fill="#fff" stroke="#000" stroke-width="${burned.sizePx / 9}" paint-order="stroke"/></svg>`;
  const printed = picture.composite([{ input: Buffer.from(svg) }]).toColourspace('b-w');
  return format === 'png'
    ? printed.png({ compressionLevel: 9 }).toBuffer()
    : printed.jpeg({ quality: 90 }).toBuffer();
}
