import type { PictureRecord } from '../../trade/case-record.js';
import { bandOf } from '../../trade/stages.js';
import type { ImageEntry, VisitDocument } from '../../trade/visit-document.js';
import type { ShownPicture } from './filed-visit.js';

/** What the case record says about one kept picture; nothing of its source. */
export function pictureRecord(
  number: number,
  entry: ImageEntry,
  shown: ShownPicture,
  document: VisitDocument,
  visit: number,
  order: number,
): PictureRecord {
  return {
    number,
    file: shown.file,
    course: document.treatment.course,
    visit,
    order,
    stage: entry.stage,
    stageWord: entry.other?.word ?? null,
    band: entry.stage === 'other' ? (entry.other?.band ?? 'during') : bandOf(entry.stage),
    view: entry.view,
    plane: entry.plane,
    angle: entry.angle,
    teeth: entry.teeth.length > 0 ? entry.teeth : [document.tooth],
    canals: entry.canals,
    flipped: shown.flipped,
    orientation: entry.orientation,
    magnification: entry.magnification,
    caption: entry.caption,
    widthPx: shown.widthPx,
    heightPx: shown.heightPx,
    ...(shown.audiences ? { limitedTo: shown.audiences } : {}),
    covered: shown.covers?.length ?? 0,
    look: shown.look ?? [],
    scale: knownLength(entry),
    processing: shown.processing,
  };
}

/** Millimetres per pixel from a length that a person marked; the same along x and y. */
function knownLength(entry: ImageEntry): PictureRecord['scale'] {
  if (!entry.scale) return null;
  const { from, to, mm } = entry.scale;
  const mmPerPx = mm / Math.hypot(to[0] - from[0], to[1] - from[1]);
  return { mmPerPxX: mmPerPx, mmPerPxY: mmPerPx, source: 'a known length in the picture' };
}
