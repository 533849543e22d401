import { fold } from '../../core/fold.js';

/** Pairs that readers of pixels take for each other, each put as one letter. */
const ALIKE: Record<string, string> = {
  '0': 'o',
  '1': 'i',
  l: 'i',
  '|': 'i',
  '!': 'i',
  '5': 's',
  $: 's',
  '8': 'b',
  '2': 'z',
  '6': 'g',
  '9': 'g',
};

const ALIKE_SIGNS = /[01l|!5$8269]/g;

/** A folded text as far as a reader of pixels can be trusted; as long as it was. */
export const asRead = (folded: string): string => folded.replace(ALIKE_SIGNS, (sign) => ALIKE[sign]!);

/** The digits a reader may have taken for letters, for values that are numbers. */
const DIGITS: Record<string, string> = {
  o: '0',
  i: '1',
  l: '1',
  '|': '1',
  '!': '1',
  s: '5',
  b: '8',
  z: '2',
  g: '6',
};

/** A folded number or date with letters in it put as the digits they resemble; as long as it was. */
export const asDigits = (folded: string): string => folded.replace(/[oil|!sbzg]/g, (sign) => DIGITS[sign]!);

/** What is compared of texts from pixels: folded, full-width forms made plain, one kind of space. */
export const foldedText = (text: string): string => fold(text).replace(/\s+/g, ' ').trim();
