/** Crockford base 32 without I, L, O and U (Douglas Crockford, "Base 32", crockford.com/base32.html). */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Bytes from a source of randomness: `count` of them, each 0-255. */
export type RandomBytes = (count: number) => Uint8Array;

/**
 * A random code that is derived from nothing: six characters of Crockford base 32 unless told.
 * 256 is a multiple of 32, so taking the low five bits of a byte favours no character.
 */
export function drawCode(random: RandomBytes, length = 6): string {
  return Array.from(random(length), (byte) => ALPHABET[byte & 31]).join('');
}

const SHAPE = /^[0-9A-HJKMNP-TV-Z]{6}$/;

export const isCode = (text: string): boolean => SHAPE.test(text);
