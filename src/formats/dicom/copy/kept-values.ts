/** Each takes the values of an element and gives those that may stay, as they are written; null drops the element. */
export type Take = (values: readonly string[]) => string[] | null;

/** Code strings out of a fixed list (PS3.3 enumerates them or gives defined terms). */
export const words =
  (list: readonly string[], most = 1): Take =>
  (values) =>
    values.length >= 1 && values.length <= most && values.every((value) => list.includes(value))
      ? [...values]
      : null;

/** The leading values as long as each is in the list for its place; the list of the last place goes for the rest. */
export const leadingWords =
  (...lists: readonly (readonly string[])[]): Take =>
  (values) => {
    const known = (value: string, at: number) => lists[Math.min(at, lists.length - 1)]!.includes(value);
    const stop = values.findIndex((value, at) => !known(value, at));
    const kept = stop < 0 ? values : values.slice(0, stop);
    return kept.length > 0 ? [...kept] : null;
  };

/** PS3.5, 6.2: DS. Longer ones than its 16 characters occur; they are read and written shorter. */
const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const INTEGER = /^[+-]?\d{1,12}$/;

interface Bounds {
  /** How many values; both ends. */
  count: readonly [number, number];
  /** What the quantity can be; both ends. Digits outside it are something else, a date or a number of a person. */
  within: readonly [number, number];
}

export const decimals =
  ({ count, within }: Bounds): Take =>
  (values) =>
    countFits(values, count) && values.every((value) => DECIMAL.test(value) && fits(Number(value), within))
      ? values.map(writeDecimal)
      : null;

export const integers =
  ({ count, within }: Bounds): Take =>
  (values) =>
    countFits(values, count) && values.every((value) => INTEGER.test(value) && fits(Number(value), within))
      ? values.map((value) => String(Number(value)))
      : null;

const countFits = (values: readonly string[], [least, most]: readonly [number, number]): boolean =>
  values.length >= least && values.length <= most;

const fits = (value: number, [from, to]: readonly [number, number]): boolean =>
  Number.isFinite(value) && value >= from && value <= to;

/** The number anew, in at most the 16 characters of a DS; so digits that do not count cannot carry anything. */
export function writeDecimal(value: string): string {
  const number = Number(value);
  let written = String(number === 0 ? 0 : number);
  for (let digits = 16; written.length > 16; digits--) written = String(Number(number.toPrecision(digits)));
  return written;
}
