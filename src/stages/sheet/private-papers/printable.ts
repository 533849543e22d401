import type { FontBook } from '../layout/font-book.js';

/** Private papers show names as they come: a character the fonts lack becomes a question mark, never a box. */
export const printable = (text: string, fonts: FontBook): string =>
  [...text.normalize('NFC').replace(/\s+/g, ' ')]
    .map((char) => (fonts.has(char.codePointAt(0)!) ? char : '?'))
    .join('');
