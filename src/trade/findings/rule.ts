import type {
  CaseRecord,
  CourseRecord,
  Finding,
  FindingLevel,
  PictureRecord,
  VisitRecord,
} from '../case-record.js';

/** What a rule sees besides the record. */
export interface FindingContext {
  patientKnown: boolean;
  /** Codes that a person has answered; their findings are settled. */
  answered: readonly string[];
}

/** The course a rule looks at: the newest one, with its pictures. */
export interface CourseView {
  record: CaseRecord;
  course: CourseRecord;
  pictures: PictureRecord[];
  /** The newest visit of the course; null when none is recorded. */
  visit: VisitRecord | null;
  /** ISO 3950 number; null for a supernumerary tooth. */
  fdi: number | null;
  context: FindingContext;
}

/** A rule is a pure function; it says nothing when all is well. */
export type Rule = (view: CourseView) => Finding[];

export const COMMON_PRACTICE = 'common practice, no source';
export const OWN_RULE = 'consistency of the record itself';

export const finding = (
  code: string,
  level: FindingLevel,
  sentence: string,
  source: string = COMMON_PRACTICE,
): Finding => ({ code, level, sentence, source });

/** "MB", "MB and ML", "MB, ML and D". */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

export function newestCourse(record: CaseRecord, context: FindingContext): CourseView | null {
  const course = record.courses.reduce<CourseRecord | null>(
    (newest, next) => (newest === null || next.course > newest.course ? next : newest),
    null,
  );
  if (course === null) return null;
  return {
    record,
    course,
    pictures: record.pictures.filter((picture) => picture.course === course.course),
    visit: course.visits.reduce<VisitRecord | null>(
      (newest, next) => (newest === null || next.visit > newest.visit ? next : newest),
      null,
    ),
    fdi: 'fdi' in record.tooth ? record.tooth.fdi : null,
    context,
  };
}
