/**
 * The only texts that may stay in a picture by themselves: what tells left from right, and what tells its scale, that
 * is a length with its unit or the figures along a rule.
 *
 * A bare number is allowed only as a single digit, as rulers bear. Two digits and more may be an age, a day, or a part
 * of a date or chart number that the finder took apart, so they need a unit. A letter counts as a side marker only as
 * a capital: a small l or r is more often a slip of the reader. "LI" and "RE" (German short forms) are names
 * elsewhere and not allowed.
 */
const SIDE =
  /^(?:R|L|[([](?:R|L)[)\]]|(?:R )?(?:RT|Rt|rt|RIGHT|Right|right)|(?:L )?(?:LT|Lt|lt|LEFT|Left|left))$/;
const DIGIT = /^\d$/;
const LENGTH = /^(0|[1-9]\d{0,2}|\d{1,2}[.,]\d)\s?(mm|cm|\u03bcm|um)$/i;

/** The row of figures along a rule, with its unit: from nought, each larger than the one before. */
const RULE = /^0(?: \d{1,3}){1,8} ?(?:mm|cm)$/i;

/** No scale in a dental picture is longer; a panoramic film is about 30 cm wide. */
const LONGEST = { mm: 150, cm: 30, um: 999, μm: 999 } as const;

/** True for side markers and scale numbers, and nothing else. How sure the reading is, the caller weighs. */
export function isAllowedText(text: string): boolean {
  const plain = text.normalize('NFKC').trim().replace(/\s+/g, ' ');
  if (SIDE.test(plain) || DIGIT.test(plain)) return true;
  if (RULE.test(plain)) return rises((plain.match(/\d+/g) ?? []).map(Number));
  const [, number = '', unit = ''] = LENGTH.exec(plain) ?? [];
  if (unit === '') return false;
  return Number(number.replace(',', '.')) <= LONGEST[unit.toLowerCase() as keyof typeof LONGEST];
}

const rises = (figures: readonly number[]): boolean =>
  figures.every((figure, at) => at === 0 || figure > figures[at - 1]!) && figures.at(-1)! <= LONGEST.mm;
