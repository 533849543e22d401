/**
 * The sheet: in come a template, a de-identified case record, a share code, settings and fonts; out come a plan, the
 * pixel sizes it needs, and a tagged PDF. It refuses a template it does not know word by word, a character its fonts
 * lack and a picture that carries metadata. It prints no case code, no date, no hash and no finding.
 */
export { drawSheet } from './draw-sheet.js';
export type { FontBytes } from './layout/font-book.js';
export type { SheetPicture } from './pdf/embed-jpeg.js';
export { figuresOf, type PlanResult, planSheet, type SheetInput, type SheetPlan } from './plan-sheet.js';
export {
  type ContactSheetInput,
  type ContactTile,
  drawContactSheet,
} from './private-papers/contact-sheet.js';
export { type CoverSlipInput, drawCoverSlip } from './private-papers/cover-slip.js';
export { sheetRecord } from './sheet-record.js';
export { readTemplate, type TemplateError, type TemplateResult } from './template/read-template.js';
export type { Template } from './template/schema.js';
