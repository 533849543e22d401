import { fold } from '../../../core/fold.js';

/** One word or number of a text, folded. */
export interface Token {
  text: string;
  /** What stands between the token before and this one. */
  gap: string;
}

/** Marks a change of case inside a word (RowanTestcase); no text holds it, and folding leaves it alone. */
const SEAM = '\u0001';
const CASE_SEAM = /(\p{Ll})(?=\p{Lu}\p{Ll})/gu;
const TOKEN = /\p{L}+|\p{N}+/gu;

/** Words and numbers in order. A letter beside a digit is an edge, and so is a capital after a small letter. */
export function tokensOf(text: string): Token[] {
  const folded = fold(text.replace(CASE_SEAM, `$1${SEAM}`));
  const tokens: Token[] = [];
  let end = 0;
  for (const found of folded.matchAll(TOKEN)) {
    const gap = folded.slice(end, found.index).replaceAll(SEAM, '');
    tokens.push({ text: found[0], gap: tokens.length === 0 ? '' : gap });
    end = found.index + found[0].length;
  }
  return tokens;
}

/** Letters and digits only, folded: the form in which terms are compared. */
export const joined = (text: string): string =>
  tokensOf(text)
    .map((token) => token.text)
    .join('');

/** Scripts that are written without spaces: a whole word cannot be told there. */
export const isUnspaced = (text: string): boolean =>
  /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Script=Thai}]/u.test(text);
