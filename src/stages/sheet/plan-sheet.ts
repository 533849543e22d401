import type { Settings } from '../../core/settings.js';
import { orificeDiagram } from '../../trade/anatomy/orifice-diagram.js';
import type { CaseRecord, CourseRecord, PictureRecord } from '../../trade/case-record.js';
import type { Band } from '../../trade/stages.js';
import { isRadiograph } from '../../trade/views.js';
import { bestLayout } from './best-layout.js';
import type { ShownPicture } from './blocks/block-context.js';
import type { Bookmark, FlowedPage } from './layout/flow.js';
import { type FontBook, type FontBytes, openFonts } from './layout/font-book.js';
import { type PictureMark, type Tag, tag } from './layout/marks.js';
import type { PageGeometry } from './layout/page.js';
import type { Template } from './template/schema.js';
import { composed, missingGlyphs } from './words/glyph-check.js';

export interface SheetInput {
  template: Template;
  record: CaseRecord;
  shareCode: string;
  settings: Settings;
  fonts: FontBytes;
  /** Most pixels per inch of a picture at its printed size; 300 unless told. */
  maxDpi?: number;
  /** Says on every page, in place of the share code, what this copy is: for a draft that must not leave. */
  notice?: string;
}

/** Pages, ready to draw, and what stands on them. Made by `planSheet` only. */
export interface SheetPlan {
  template: string;
  audience: string;
  shareCode: string;
  record: CaseRecord;
  course: CourseRecord;
  shown: ShownPicture[];
  pages: FlowedPage[];
  bookmarks: Bookmark[];
  structure: Tag;
  geometry: PageGeometry;
  language: string;
  maxDpi: number;
  fonts: FontBook;
}

export type PlanResult = { ok: true; plan: SheetPlan } | { ok: false; problems: string[] };

const MAX_DPI = 300;
const BANDS: readonly Band[] = ['before', 'during', 'after'];

/**
 * Lays a sheet out. The latest course is shown with its visits merged. A character the fonts lack is a problem that
 * names the code point and the field, never a box on paper.
 */
export async function planSheet(input: SheetInput): Promise<PlanResult> {
  const { template, record, shareCode, settings } = composed({
    template: input.template,
    record: input.record,
    shareCode: input.shareCode,
    settings: input.settings,
  });
  const course = latestCourse(record);
  if (!course) return { ok: false, problems: ['The case has no course of treatment to show.'] };
  const fonts = openFonts(input.fonts);
  const pictures = picturesOf(record, course, template.audience);
  const problems = missingGlyphs(
    {
      template,
      tooth: record.tooth,
      course,
      pictures: captionsOf(pictures),
      letterhead: settings.letterhead,
      shareCode,
    },
    fonts,
  );
  if (problems.length > 0) return { ok: false, problems };
  const diagram = orificeDiagram(record.tooth, course.canals);
  const laid = bestLayout(template, {
    record,
    course,
    pictures,
    diagram,
    shareCode,
    notice: input.notice ?? null,
    settings,
    fonts,
  });
  const { shown, pages, bookmarks, geometry, tags } = laid;
  return {
    ok: true,
    plan: {
      template: template.template,
      audience: template.audience,
      shareCode,
      record,
      course,
      shown,
      pages,
      bookmarks,
      structure: tag('Document', tags),
      geometry,
      language: settings.language,
      maxDpi: input.maxDpi ?? MAX_DPI,
      fonts,
    },
  };
}

const latestCourse = (record: CaseRecord): CourseRecord | undefined =>
  record.courses.toSorted((a, b) => a.course - b.course).at(-1);

/**
 * Full-face photographs and comparable images identify (45 CFR 164.514(b)(2)(i)(Q)): an extraoral picture, or one
 * with a face in it, is shown only to an audience that a person named for it.
 */
const isForOthers = ({ view, limitedTo }: PictureRecord, audience: string): boolean =>
  (view === 'extraoral' || limitedTo !== undefined) && !limitedTo?.includes(audience);

function picturesOf(record: CaseRecord, course: CourseRecord, audience: string): PictureRecord[] {
  return record.pictures
    .filter((picture) => picture.course === course.course && !isForOthers(picture, audience))
    .toSorted(
      (a, b) =>
        BANDS.indexOf(a.band) - BANDS.indexOf(b.band) ||
        a.visit - b.visit ||
        a.order - b.order ||
        a.number - b.number,
    );
}

const captionsOf = (pictures: readonly PictureRecord[]) =>
  Object.fromEntries(
    pictures.map((picture) => [
      picture.number,
      { caption: picture.caption, stageWord: picture.stageWord, processing: picture.processing },
    ]),
  );

/** How large each picture may be for its printed size, and whether it is grey. */
export function figuresOf(
  plan: SheetPlan,
): { number: number; maxWidthPx: number; maxHeightPx: number; grey: boolean }[] {
  const pixels = (pt: number) => Math.max(1, Math.floor((pt / 72) * plan.maxDpi));
  return plan.pages
    .flatMap(({ marks }) => marks.filter((mark): mark is PictureMark => mark.kind === 'picture'))
    .map(({ number, box }) => ({
      number,
      maxWidthPx: pixels(box.widthPt),
      maxHeightPx: pixels(box.heightPt),
      grey: plan.shown.some(({ picture }) => picture.number === number && isRadiograph(picture.view)),
    }));
}
