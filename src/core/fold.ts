/** Letters that have no accent to take off but are written with plain ones elsewhere. */
const PLAIN: Record<string, string> = {
  ß: 'ss',
  ẞ: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  ħ: 'h',
  ı: 'i',
  ĸ: 'k',
  ŋ: 'n',
  ŧ: 't',
  ς: 'σ',
};

const SPECIAL = new RegExp(`[${Object.keys(PLAIN).join('')}]`, 'g');

/** Marks, soft hyphens, zero-width signs and direction marks: nothing a reader sees. */
const UNSEEN = /[\p{M}\p{Cf}]/gu;

const APOSTROPHES = /[\u2018\u2019\u02BC\u00B4`]/g;

const once = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(UNSEEN, '')
    .toLowerCase()
    .normalize('NFKD')
    .replace(UNSEEN, '')
    .replace(APOSTROPHES, "'")
    .replace(SPECIAL, (letter) => PLAIN[letter]!);

/**
 * Text as it is compared: lower case, no accents, full-width and ligature forms made plain (Unicode NFKD). Works for
 * Latin, Greek and Cyrillic alike; other scripts keep their letters. Folding twice changes nothing.
 */
export function fold(text: string): string {
  let folded = once(text);
  // a few letters fold to something that folds again
  for (let again = once(folded); again !== folded; again = once(folded)) folded = again;
  return folded;
}

/** German and Nordic names are also written out: Müller as Mueller, Åse as Aase. */
const WRITTEN_OUT: readonly [RegExp, string][] = [
  [/[äæ]/g, 'ae'],
  [/[öøœ]/g, 'oe'],
  [/ü/g, 'ue'],
  [/å/g, 'aa'],
];

/** Every folded spelling under which a word may turn up: Müller gives muller and mueller, and so does Mueller. */
export function spellings(word: string): string[] {
  const composed = word.normalize('NFKC').toLowerCase().normalize('NFC');
  const long = WRITTEN_OUT.reduce((text, [from, to]) => text.replace(from, to), composed);
  const plain = fold(word);
  const short = plain.replace(/ae/g, 'a').replace(/oe/g, 'o').replace(/ue/g, 'u').replace(/aa/g, 'a');
  return [...new Set([plain, fold(long), short])];
}
