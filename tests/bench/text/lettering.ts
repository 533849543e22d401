/** Draws one string as a small patch of coverage, turned as wanted. */
import type { Font } from 'fontkit';
import sharp from 'sharp';

export interface Lettering {
  text: string;
  font: Font;
  /** Height of a capital letter. */
  capitalPx: number;
  turnDeg: number;
  /** Width of the outline around the letters; 0 for none. */
  outlinePx: number;
  /** Room of the label's box around the letters; null for no box. */
  boxPx: number | null;
  /** Hard steps instead of smooth edges, as old programs print. */
  aliased: boolean;
}

/** Coverage 0-255 of letters, outline and box, all of one size. */
export interface Patch {
  widthPx: number;
  heightPx: number;
  ink: Uint8Array;
  outline: Uint8Array;
  box: Uint8Array;
}

/** Outlines of the string, baseline at 0, y downward, and its extent. */
function outlineOf({ text, font, capitalPx }: Lettering) {
  const scale = capitalPx / (font.capHeight || font.ascent * 0.7);
  const run = font.layout(text);
  let x = 0;
  const parts = run.glyphs.map((glyph, i) => {
    const place = run.positions[i]!;
    const at = [x + place.xOffset * scale, -place.yOffset * scale];
    x += place.xAdvance * scale;
    return `<path transform="translate(${at[0]} ${at[1]}) scale(${scale} ${-scale})" d="${glyph.path.toSVG()}"/>`;
  });
  return { paths: parts.join(''), widthPx: x };
}

async function coverage(body: string, widthPx: number, heightPx: number): Promise<Uint8Array> {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}">${body}</svg>`;
  return sharp(Buffer.from(svg)).ensureAlpha().extractChannel(3).raw().toBuffer();
}

export async function drawLettering(lettering: Lettering): Promise<Patch> {
  const { capitalPx, turnDeg, outlinePx, boxPx } = lettering;
  const { paths, widthPx: wide } = outlineOf(lettering);
  const room = capitalPx * 0.7 + outlinePx + (boxPx ?? 0) + 4;
  const turn = (turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.abs(Math.cos(turn)), Math.abs(Math.sin(turn))];
  const [across, down] = [wide + 2 * room, capitalPx + 2 * room];
  const widthPx = Math.ceil(across * cos + down * sin);
  const heightPx = Math.ceil(across * sin + down * cos);
  const place = `translate(${widthPx / 2} ${heightPx / 2}) rotate(${turnDeg}) translate(${-wide / 2} ${capitalPx / 2})`;
  const rendering = lettering.aliased ? ' shape-rendering="crispEdges"' : '';
  const draw = (body: string, stroke = ''): Promise<Uint8Array> =>
    coverage(`<g transform="${place}"${rendering}${stroke}>${body}</g>`, widthPx, heightPx);
  const pad = boxPx ?? 0;
  const rect = `<rect x="${-pad - 2}" y="${-capitalPx - pad - capitalPx * 0.25}" width="${wide + 2 * pad + 4}" height="${capitalPx * 1.6 + 2 * pad}"/>`;
  const scale = capitalPx / (lettering.font.capHeight || lettering.font.ascent * 0.7);
  const stroke = ` stroke="#000" stroke-linejoin="round" stroke-width="${(2 * outlinePx) / scale}"`;
  return {
    widthPx,
    heightPx,
    ink: await draw(paths),
    outline: outlinePx > 0 ? await draw(paths, stroke) : new Uint8Array(widthPx * heightPx),
    box: boxPx === null ? new Uint8Array(widthPx * heightPx) : await draw(rect),
  };
}
