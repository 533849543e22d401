import { isCommonWord } from './common-words.js';
import { tokensOf } from './tokens.js';

/** What cameras and export dialogs write before their counters. From memory; common practice, no source. */
const COUNTERS = new Set(
  'img dsc dscn dscf pict p cimg imgp sam film image picture pic photo foto bild scan still frame slice capture cap snap snapshot xray rvg pa bw cbct ct pan opg mvi mov gopr screenshot export file page untitled copy new edit'.split(
    ' ',
  ),
);

/**
 * What a source file or folder name adds to the search: words and numbers in a row, as they would stand in a text.
 * A counter of a camera (IMG_0412, DSC00012, film7) identifies nobody and adds nothing, and so do words of the trade.
 */
export function fileNameTerms(name: string): string[] {
  return name.split(/[/\\]/).flatMap(pieceTerms);
}

function pieceTerms(piece: string): string[] {
  const words = tokensOf(piece.replace(/\.[A-Za-z0-9]{1,5}$/, '')).map(({ text }) => text);
  const telling = words.filter((word) => !saysNothing(word));
  if (telling.length === 0) return [];
  const pairs = words
    .slice(1)
    .flatMap((word, at) => (saysNothing(word) || saysNothing(words[at]!) ? [] : [`${words[at]} ${word}`]));
  const numbers = telling.filter((word) => /^\d{6,}$/.test(word) && !isCounter(words));
  return isCounter(words) ? [] : [...new Set([words.join(' '), ...pairs, ...numbers])];
}

const isCounter = (words: readonly string[]): boolean =>
  words.every((word) => /^\d+$/.test(word) || isCounterWord(word)) && words.some(isCounterWord);

const isCounterWord = (word: string): boolean => COUNTERS.has(word) || COUNTERS.has(word.replace(/s$/, ''));

/** A short word or number, a counter's word, or one of the trade. */
const saysNothing = (word: string): boolean =>
  /^\d{1,4}$/.test(word) || [...word].length < 3 || isCounterWord(word) || isCommonWord(word);
