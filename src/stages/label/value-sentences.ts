import type { z } from 'zod';
import { named } from './problem.js';

/** Sentences for dates and numbers, the two values that are mistyped most. */

const MONTH_LENGTH = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** @param quote what was written, or null when it must not be shown (a birth date never is) */
export function dateProblem(quote: string | null): string {
  if (quote === null)
    return 'This is not a day of the calendar written as year-month-day. Write it like 1999-12-31.';
  if (/^\d{4}-\d{2}-\d{2}$/.test(quote)) {
    return `"${quote}" is not a day of the calendar. Correct the month or the day.`;
  }
  const guess = isoOf(quote);
  const hint = guess === null ? ' for example 2026-02-11.' : ` ${guess} if that is the day.`;
  return `"${quote}" is not a date written as year-month-day. Write${hint}`;
}

/** Points part day, month and year in that order wherever they are used; slashes are read either way, so no guess. */
function isoOf(text: string): string | null {
  const dotted = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$/.exec(text);
  const yearFirst = /^(\d{4})[./-]?(\d{1,2})[./-]?(\d{1,2})(?:T.*)?$/.exec(text);
  const parts = dotted ? [dotted[3], dotted[2], dotted[1]] : yearFirst?.slice(1, 4);
  if (parts === undefined) return null;
  const [year, month, day] = parts.map(Number) as [number, number, number];
  const fits = month >= 1 && month <= 12 && day >= 1 && day <= MONTH_LENGTH[month - 1]!;
  return fits ? [year, pad(month), pad(day)].join('-') : null;
}

const pad = (value: number): string => String(value).padStart(2, '0');

/** @param hint the unit, or how to write it: "in millimetres" */
export function numberSentence(
  issue: z.core.$ZodIssue,
  quote: string | null,
  hint: string | undefined,
): string {
  const unit = hint === undefined ? '' : ` ${hint}`;
  if (quote === null) return `This must be one number${unit}.`;
  if (/^#?\d{1,3}\s*\/\s*\d*\.?\d+$/.test(quote)) {
    return `"${quote}" holds a size and a taper. Write each under its own key, for example size: 30, taper: 0.04.`;
  }
  const guess = intended(quote, issue);
  const ask = guess === null ? '' : ` Did you mean ${guess}?`;
  if (issue.code === 'too_big')
    return `"${quote}" is too large; at most ${issue.maximum}${unit}.${ask || ' Correct it.'}`;
  if (issue.code === 'too_small')
    return `"${quote}" is too small; at least ${issue.minimum}${unit}.${ask || ' Correct it.'}`;
  if (issue.code === 'invalid_type' && issue.expected === 'int')
    return `"${quote}" is not a whole number. Write one without a fraction.`;
  return `${named(quote)} is not a number.${ask} Write the number${unit}, with a point for decimals and no unit.`;
}

/** 20,5 and 20.5mm mean 20.5; a taper of 4 means 0.04; a length of 205 means 20.5. Null when nothing is likely. */
function intended(quote: string, issue: z.core.$ZodIssue): string | null {
  const found = /^\D{0,3}?(\d{1,4})(?:[.,](\d{1,3}))?\s*\D{0,12}$/.exec(quote);
  if (found === null) return null;
  const value = Number(`${found[1]}.${found[2] ?? '0'}`);
  if (issue.code !== 'too_big') return issue.code === 'too_small' ? null : String(value);
  const most = Number(issue.maximum);
  const scaled = [value / 10, value / 100].map((one) => Number(one.toPrecision(6)));
  // a taper is written 4 or 0.4 for four per cent, never 0.4 for forty
  const likely = most < 1 ? scaled[value >= 1 ? 1 : 0] : scaled[0];
  return likely !== undefined && likely <= most ? String(likely) : null;
}
