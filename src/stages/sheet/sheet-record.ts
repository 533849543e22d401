import { isRadiograph } from '../../trade/views.js';
import type { SheetPlan } from './plan-sheet.js';
import { notationsOf, toothOf } from './words/tooth-title.js';

/** sheets/<template>.json: what the sheet shows. No case code, no hash of a source, no name of one. */
export function sheetRecord(plan: SheetPlan): object {
  const { course, record } = plan;
  return {
    schema: 1,
    template: plan.template,
    audience: plan.audience,
    shareCode: plan.shareCode,
    tooth: { ...record.tooth, words: toothOf(record.tooth), notations: notationsOf(record.tooth) },
    treatment: course.kind,
    course: course.course,
    paper: { widthPt: plan.geometry.widthPt, heightPt: plan.geometry.heightPt },
    pages: plan.pages.length,
    /** Most pixels per inch of its pictures: a sheet made small for e-mail is drawn again as small. */
    maxDpi: plan.maxDpi,
    pictures: plan.shown.map(({ figure, picture, toScale }) => ({
      figure,
      number: picture.number,
      file: picture.file,
      stage: picture.stage,
      band: picture.band,
      view: picture.view,
      visit: picture.visit,
      caption: picture.caption,
      radiograph: isRadiograph(picture.view),
      toScale,
      flipped: picture.flipped,
      covered: picture.covered,
    })),
  };
}
