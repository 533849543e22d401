import type { FontBook } from '../layout/font-book.js';

/** Every string of a value in composed form (Unicode NFC), with line breaks and tabs as plain spaces. */
export function composed<T>(value: T): T {
  if (typeof value === 'string') return value.normalize('NFC').replace(/[\s\u0085]+/g, spaced) as T;
  if (Array.isArray(value)) return value.map(composed) as T;
  if (value !== null && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, composed(inner)])) as T;
  return value;
}

/** A no-break space alone stays one. */
const spaced = (spaces: string): string => (spaces === '\u00a0' || spaces === '\u202f' ? spaces : ' ');

/** A sentence for each character the fonts lack: its code point and field, once a field. Never the text itself. */
export function missingGlyphs(value: unknown, fonts: FontBook): string[] {
  const problems = new Set<string>();
  walk(value, '', (text, field) => {
    for (const char of text) {
      const codePoint = char.codePointAt(0)!;
      if (!fonts.has(codePoint)) problems.add(sentence(codePoint, field));
    }
  });
  return [...problems];
}

function walk(value: unknown, path: string, visit: (text: string, field: string) => void): void {
  if (typeof value === 'string') visit(value, path);
  else if (Array.isArray(value))
    for (const [index, inner] of value.entries()) walk(inner, `${path}[${index}]`, visit);
  else if (value !== null && typeof value === 'object')
    for (const [key, inner] of Object.entries(value))
      walk(inner, path === '' ? key : `${path}.${key}`, visit);
}

const sentence = (codePoint: number, field: string): string =>
  `${field} has the character U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}, which the sheet's font cannot print. Write it in other letters.`;
