const DAY_MS = 86_400_000;

/** Whole days from one ISO date to another, by the calendar alone; null when either is missing. */
export function daysBetween(from: string | null, to: string | null): number | null {
  if (from === null || to === null) return null;
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);
}

/** The year may stay on a de-identified record (45 CFR 164.514(b)(2)(i)(C): all elements of dates except year). */
export const yearOf = (date: string | null): number | null =>
  date === null ? null : Number(date.slice(0, 4));
