import { latin1At } from '../../../../formats/bytes.js';
import { textsOf } from './string-text.js';

/** Longer ones are fonts and tables, not the drawing of a page. */
const LONGEST = 20_000_000;

/** An operator that shows text, or begins marked content with its properties (ISO 32000-1, tables 109 and 320). */
const SHOWS = /\b(?:Tj|TJ|BDC|DP)\b|['"]\s/;
const SHOWN =
  /\[((?:\((?:\\[\s\S]|[^\\()])*\)|<[0-9A-Fa-f\s]*>|[^[\]()<>])*)\]\s*TJ|\((?:\\[\s\S]|[^\\()])*\)|<[0-9A-Fa-f\s]{2,}>/g;
const PIECE = /\((?:\\[\s\S]|[^\\()])*\)|<[0-9A-Fa-f\s]*>/g;

/**
 * Texts in the operators of a drawing, as they are coded: for drawings that no page leads to, and for replacement texts.
 * Without the font this tells only codings that are letters; what is drawn is read elsewhere.
 */
export function stringsInContent(bytes: Uint8Array): string[] {
  if (bytes.length > LONGEST) return [];
  const source = latin1At(bytes, 0, bytes.length);
  if (!SHOWS.test(source)) return [];
  const shown = [...source.matchAll(SHOWN)].flatMap(([found]) => {
    const pieces = (found.match(PIECE) ?? []).map(bytesOfPiece);
    return textsOf(Buffer.concat(pieces));
  });
  return [shown.join(' '), shown.join('')];
}

const ESCAPED: Record<string, string> = { n: '\n', r: '\r', t: '\t', b: '\b', f: '\f' };

function bytesOfPiece(piece: string): Buffer {
  if (piece.startsWith('<')) return Buffer.from(piece.replace(/[^0-9A-Fa-f]/g, ''), 'hex');
  const text = piece
    .slice(1, -1)
    .replace(/\\(?:([0-7]{1,3})|(\r\n?|\n)|([\s\S]))/g, (_, octal, line, sign) =>
      octal ? String.fromCharCode(Number.parseInt(octal, 8) & 255) : line ? '' : (ESCAPED[sign] ?? sign),
    );
  return Buffer.from(text, 'latin1');
}
