/** EXIF date and XMP date as "2026-02-11T09:41:03.25"; any zone is cut off, never converted. Null when no date. */
export function captureTime(date: unknown, subSeconds: unknown = null): string | null {
  if (typeof date !== 'string') return null;
  const match = /^(\d{4})[:-](\d\d)[:-](\d\d)[T ](\d\d):(\d\d)(?::(\d\d)(?:\.(\d{1,9}))?)?/.exec(date.trim());
  if (!match) return null;
  const [, year, month, day, hour, minute, second = '00', fraction] = match;
  const lawful =
    Number(year) > 0 &&
    within(month, 1, 12) &&
    within(day, 1, 31) &&
    within(hour, 0, 23) &&
    within(minute, 0, 59);
  if (!lawful || !within(second, 0, 60)) return null;
  const given = typeof subSeconds === 'string' ? /^\d{1,9}/.exec(subSeconds.trim())?.[0] : undefined;
  const part = given ?? fraction;
  return `${year}-${month}-${day}T${hour}:${minute}:${second}${part ? `.${part}` : ''}`;
}

const within = (text: string | undefined, from: number, to: number): boolean =>
  Number(text) >= from && Number(text) <= to;
