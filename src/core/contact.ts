/** Contact data and numbers of persons in folded text (45 CFR 164.514(b)(2)(i), items D to O and R). */

const MAIL = /[\p{L}\p{N}._%+-]+\s?(?:@|\(at\)|\[at\])\s?[\p{L}\p{N}-]+(?:\.[\p{L}\p{N}-]+)+/u;
const HANDLE = /(?<![\p{L}\p{N}])@[\p{L}_][\p{L}\p{N}_.]{2,}/u;
const LINK =
  /\b(?:https?|ftp):\/?\/?\S|\bwww\.\S|(?<![\p{L}\p{N}])[\p{L}\p{N}-]+\.(?:com|org|net|info|biz|eu|co\.uk|dental|dentist|clinic|health|doctor|app|io)(?![\p{L}\p{N}])/u;
const NETWORK_ADDRESS = /(?<![\d.])(?:\d{1,3}\.){3}\d{1,3}(?![\d.])/;

export type ContactKind = 'e-mail' | 'handle' | 'url' | 'network-address' | 'phone';

/** Which contact data stand in a folded text, never the data; a fixed order. */
export function contactKinds(folded: string): ContactKind[] {
  const found: [ContactKind, boolean][] = [
    ['e-mail', MAIL.test(folded)],
    ['handle', HANDLE.test(folded)],
    ['url', LINK.test(folded)],
    ['network-address', hasNetworkAddress(folded)],
    ['phone', hasPhone(folded)],
  ];
  return found.filter(([, is]) => is).map(([kind]) => kind);
}

export const hasContact = (folded: string): boolean => contactKinds(folded).length > 0;

const hasNetworkAddress = (text: string): boolean => {
  const found = NETWORK_ADDRESS.exec(text);
  return found !== null && found[0].length > 7 && found[0].split('.').every((part) => Number(part) <= 255);
};

const CALLED =
  /(?:tel|telephone|phone|mobile|cell|fax|call|ring|whatsapp|handy|telefon|τηλ|тел)[a-z]*[.:\s]*\+?[\d(][\d\s()./-]{4,}\d/u;
const DIALLED = /(?<![\p{L}\p{N}.,/])(?:\+|00|\()?\d[\d\s()./-]{5,20}\d(?![\p{N}]|[.,]\d)/gu;

function hasPhone(text: string): boolean {
  return CALLED.test(text) || [...text.matchAll(DIALLED)].some(([found]) => isPhone(found));
}

/** Nominal sizes of ISO 3630-1 up to 140 (from memory): a row of them is a list of instruments, not a number to call. */
const SIZES = new Set('06 08 10 15 20 25 30 35 40 45 50 55 60 70 80 90 100 110 120 130 140'.split(' '));

function isPhone(text: string): boolean {
  const groups = text.split(/\D+/).filter((group) => group !== '');
  const digits = groups.join('');
  if (digits.length < 7 || digits.length > 15 || groups.length < 2) return false;
  if (groups.every((group) => SIZES.has(group)) || /^\d{1,2}([./-])\d{1,2}\1\d{4}$/.test(text)) return false;
  if (/^\+|^00|^\(/.test(text)) return true;
  // figures with a decimal point, in a row
  if (/\d{1,2}\.\d{1,2}(?!\d)/.test(text) && !/^0/.test(text))
    return groups.every((group) => group.length === 2) && groups.length === 5;
  const inPairs = groups.length === 5 && groups.every((group) => group.length === 2);
  if (inPairs) return text.startsWith('0');
  const hyphened = /^\d{3}[-.]\d{3}[-.]\d{4}$|^\d{3}-\d{4}$|^1[-. ]\d{3}[-. ]\d{3}[-. ]\d{4}$/.test(text);
  return hyphened || (text.startsWith('0') && groups.some((group) => group.length >= 3));
}

const SOCIAL_SECURITY = /(?<!\d)\d{3}-\d{2}-\d{4}(?!\d)/;
const LONG_RUN = /\d{7,}/;

/** A run of seven digits or more, or a social security number: no measurement has either. */
export const hasPersonNumber = (folded: string): boolean =>
  SOCIAL_SECURITY.test(folded) || LONG_RUN.test(folded);

const OLD =
  /(?<![\d.,])(?:9\d|1[0-2]\d)[\s-]?(?:years?|yrs?|y\/?o|yo)(?:[\s-]?old)?(?!\p{L})|(?:aged?|age of)[:\s]+(?:9\d|1[0-2]\d)(?![\d.,%])/u;

/** An age above 89 (item C of the same list); 89 itself may stay. */
export const hasGreatAge = (folded: string): boolean => {
  const found = OLD.exec(folded);
  return found !== null && Number(/\d+/.exec(found[0])?.[0]) > 89;
};
