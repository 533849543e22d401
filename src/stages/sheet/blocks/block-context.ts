import type { Settings } from '../../../core/settings.js';
import type { OrificeDiagram } from '../../../trade/anatomy/orifice-diagram.js';
import type { CaseRecord, CourseRecord, PictureRecord } from '../../../trade/case-record.js';
import type { FontBook } from '../layout/font-book.js';
import type { PageGeometry } from '../layout/page.js';
import type { TypeScale } from '../layout/type-scale.js';

/** A picture on the sheet with its figure number. */
export interface ShownPicture {
  figure: number;
  picture: PictureRecord;
  /** True when its row shares one scale, false when it is a radiograph without, null for a still. */
  toScale: boolean | null;
}

/** What every block may look at. `shown` grows in reading order as blocks are built. */
export interface BlockContext {
  record: CaseRecord;
  /** The course the sheet is about, the latest. */
  course: CourseRecord;
  /** Its pictures in order of band, then of the record. */
  pictures: readonly PictureRecord[];
  /** The latest course's canals on the tooth's chamber floor; null when there is nothing to draw. */
  diagram: OrificeDiagram | null;
  shareCode: string;
  /** Stands in place of the share code on a draft. */
  notice: string | null;
  settings: Settings;
  fonts: FontBook;
  type: TypeScale;
  geometry: PageGeometry;
  /** Share of their usual height that pictures may have: a little less may save a page. */
  pictureScale: number;
  /** The same for pictures that follow those which tell the case. */
  restScale: number;
  /** Most pictures a story shows without choosing, 3 or 4: four smaller ones may save a page. */
  storyMost: number;
  shown: ShownPicture[];
  figures: { next: number };
}
