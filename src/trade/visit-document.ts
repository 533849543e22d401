import type { StageWord } from './stages.js';
import type { ToothRef } from './tooth-ref.js';
import type { Angle, SlicePlane, ViewWord } from './views.js';

/** One document of visit.yaml after checking: what the assistant said about one tooth on one day. */
export interface VisitDocument {
  patient: { chart: string | null; names: string[]; born: string | null };
  visit: { date: string | null; state: VisitState | null };
  treatment: { kind: TreatmentKind | null; course: number };
  tooth: ToothRef;
  consent: { referral: boolean | null; teaching: boolean | null; publication: boolean | null };
  diagnosis: { pulp: string | null; apex: string | null };
  canals: CanalEntry[];
  images: ImageEntry[];
  align: { before: string; after: string; confirmed: string | null }[];
  answers: Answer[];
  handoff: HandOff;
}

export type VisitState = 'finished' | 'interim' | 'emergency' | 'interrupted' | 'consultation';

export type TreatmentKind =
  | 'root-canal-treatment'
  | 'retreatment'
  | 'root-end-surgery'
  | 'vital-pulp-therapy'
  | 'pulpectomy'
  | 'apexification'
  | 'regenerative'
  | 'repair'
  | 'trauma'
  | 'emergency'
  | 'consultation';

export interface CanalEntry {
  canal: string;
  /** Working length, mm from `reference`. */
  length: number | null;
  reference: string | null;
  /** Size of the largest instrument at length, hundredths of a millimetre (ISO 3630-1). */
  size: number | null;
  /** Millimetres of diameter per millimetre of length, e.g. 0.04. */
  taper: number | null;
  /** Joins another canal, `at` mm from the apex. */
  joins: { canal: string; at: number | null } | null;
  dry: boolean | null;
  /** Filling material, as words. */
  filled: string | null;
  note: string | null;
}

/** Points and boxes are pixels of the upright, direct-view display picture; origin top left. */
export type Point = [x: number, y: number];
export type Box = [x: number, y: number, width: number, height: number];

export interface ImageEntry {
  file: string;
  /** 1-based line of the entry in visit.yaml; null when it came from elsewhere. */
  line: number | null;
  stage: StageWord;
  /** With stage `other`: a word for it and the band it belongs to. */
  other: { word: string; band: 'before' | 'during' | 'after' } | null;
  view: ViewWord;
  plane: SlicePlane | null;
  angle: Angle | null;
  teeth: ToothRef[];
  canals: string[];
  mirror: boolean;
  /** Where mesial and buccal lie in the picture as shown, e.g. "mesial left, buccal up"; printed when given. */
  orientation: { mesial: Side | null; buccal: Side | null } | null;
  /** The microscope's setting, e.g. 10 for x10. */
  magnification: number | null;
  caption: string | null;
  cover: { box: Box; by: string | null; why: string | null }[];
  keep: { box: Box; by: string | null; why: string | null }[];
  scale: { from: Point; to: Point; mm: number } | null;
  paths: { canal: string; points: Point[]; apex: Point | null; fillingEnd: Point | null }[];
  lesion: Point[] | null;
  landmarks: Record<string, Point>;
  frame: number | null;
}

export type Side = 'up' | 'down' | 'left' | 'right';

export interface Answer {
  code: string;
  /** The picture it speaks of, as the sidecar names it; null = all that the code concerns. */
  file: string | null;
  by: string | null;
  why: string | null;
  /** With code `face`: audiences of templates that may see it; empty = the private record only. */
  audience: string[];
}

/** What the restoring dentist must know. Every field is free text of the practice; null = not recorded. */
export interface HandOff {
  restorer: string | null;
  caries: string | null;
  margins: string | null;
  barrier: string | null;
  temporary: string | null;
  /** What lies in the pulp chamber or canals now, e.g. "calcium hydroxide, to be removed". */
  chamber: string | null;
  advise: string | null;
  by: string | null;
  /** For an unfinished visit: the next step and when it is due. */
  next: string | null;
  due: string | null;
  mishaps: string[];
  /** Who recalls the patient, and when. */
  recall: string | null;
}
