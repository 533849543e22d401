import type { Band, StageWord } from './stages.js';
import type { ToothRef } from './tooth-ref.js';
import type { Angle, SlicePlane, ViewWord } from './views.js';
import type { CanalEntry, HandOff, ImageEntry, TreatmentKind, VisitState } from './visit-document.js';

/**
 * cases/<CODE>/case.json: one tooth over all visits and courses, de-identified. No date but the year, no source
 * name, no source hash, no initials.
 */
export interface CaseRecord {
  schema: 1;
  case: string;
  tooth: ToothRef;
  courses: CourseRecord[];
  pictures: PictureRecord[];
}

export interface CourseRecord {
  course: number;
  kind: TreatmentKind | null;
  diagnosis: { pulp: string | null; apex: string | null };
  consent: { referral: boolean | null; teaching: boolean | null; publication: boolean | null };
  canals: CanalEntry[];
  handoff: HandOff;
  visits: VisitRecord[];
}

export interface VisitRecord {
  /** 1-based within the course, by date. */
  visit: number;
  /** Days since the first visit of the course; null when the visit has no date. */
  day: number | null;
  year: number | null;
  state: VisitState | null;
  revision: number;
}

export interface PictureRecord {
  /** Order of filing within the case, never changed; the NN of the file name. */
  number: number;
  /** Relative to the case folder: "images/01-pre-op.png". */
  file: string;
  course: number;
  visit: number;
  /** Place within the band on a sheet: smaller is earlier. */
  order: number;
  stage: StageWord;
  stageWord: string | null;
  band: Band;
  view: ViewWord;
  plane: SlicePlane | null;
  angle: Angle | null;
  teeth: ToothRef[];
  canals: string[];
  /** The display picture was flipped once so that it reads as direct vision. */
  flipped: boolean;
  orientation: ImageEntry['orientation'];
  magnification: number | null;
  /** Null when absent or held. */
  caption: string | null;
  widthPx: number;
  heightPx: number;
  /** Audiences that may see it, where a person limited it to some; such a picture is in no case.json. */
  limitedTo?: string[];
  covered: number;
  look: string[];
  /** Millimetres per pixel along x and y with where it comes from; null = not to scale. */
  scale: { mmPerPxX: number; mmPerPxY: number; source: string } | null;
  /** Teeth (ISO 3950) and side that a DICOM object says it shows; absent when it says nothing. */
  object?: { teeth: number[]; side: 'left' | 'right' | 'both' | null };
  /** What was done to the whole picture for display, in words, for "About these images". */
  processing: string[];
}

export type FindingLevel = 'missing' | 'contradiction' | 'check' | 'note';

/** Something missing, contradictory or doubtful. For the practice: no sheet that leaves prints one. */
export interface Finding {
  code: string;
  level: FindingLevel;
  sentence: string;
  /** Where the rule comes from, or "common practice, no source". */
  source: string;
}
