import type { CaseRecord, CourseRecord } from '../../trade/case-record.js';

/**
 * The record without the free texts that identify, and how many those were. Texts are searched when a sidecar is read;
 * this search comes after, since a later visit may bring a name that an earlier caption already used.
 */
export function leaveOutTexts(
  record: CaseRecord,
  identifies: (text: string) => boolean,
): { record: CaseRecord; leftOut: number } {
  let leftOut = 0;
  const clean = (text: string | null): string | null => {
    if (text === null || !identifies(text)) return text;
    leftOut += 1;
    return null;
  };
  const cleaned = {
    ...record,
    courses: record.courses.map((course) => cleanCourse(course, clean)),
    pictures: record.pictures.map((picture) => ({
      ...picture,
      caption: clean(picture.caption),
      stageWord: clean(picture.stageWord),
    })),
  };
  return { record: cleaned, leftOut };
}

type Clean = (text: string | null) => string | null;

function cleanCourse(course: CourseRecord, clean: Clean): CourseRecord {
  const { mishaps, ...texts } = course.handoff;
  return {
    ...course,
    diagnosis: cleanAll(course.diagnosis, clean),
    canals: course.canals.map((canal) => ({
      ...canal,
      reference: clean(canal.reference),
      filled: clean(canal.filled),
      note: clean(canal.note),
    })),
    handoff: { ...cleanAll(texts, clean), mishaps: mishaps.filter((text) => clean(text) !== null) },
  };
}

const cleanAll = <T extends Record<string, string | null>>(texts: T, clean: Clean): T =>
  Object.fromEntries(Object.entries(texts).map(([key, text]) => [key, clean(text)])) as T;
