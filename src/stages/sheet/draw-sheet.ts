import type { SheetPicture } from './pdf/embed-jpeg.js';
import { writeDocument } from './pdf/write-document.js';
import type { SheetPlan } from './plan-sheet.js';
import { sheetRecord } from './sheet-record.js';

/**
 * The sheet as a PDF. `pictures` holds one reduced, metadata-free JPEG for each entry of `figuresOf`, by the
 * picture's number. Same plan and pictures, same bytes.
 */
export function drawSheet(
  plan: SheetPlan,
  pictures: ReadonlyMap<number, SheetPicture>,
  options: { wholeFonts?: boolean } = {},
): Promise<Uint8Array> {
  return writeDocument(
    {
      pages: plan.pages,
      bookmarks: plan.bookmarks,
      structure: plan.structure,
      widthPt: plan.geometry.widthPt,
      heightPt: plan.geometry.heightPt,
      language: plan.language,
      identity: JSON.stringify(sheetRecord(plan)),
    },
    plan.fonts,
    pictures,
    options,
  );
}
