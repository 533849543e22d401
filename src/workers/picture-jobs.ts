import type { Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import type { FoundBox, FoundFace, FoundText } from '../finders/finder.js';
import type { AuditedFile, AuditTerms } from '../stages/audit/index.js';
import type { Reduced, Rendered } from '../stages/render/index.js';

/** What one `make` says. The pictures themselves are written by the child, since handing megabytes over costs more. */
export interface Made extends Omit<Rendered, 'display'> {
  displaySha256: string;
}

export interface IdentifyJob {
  /** Our own copy of the picture, which nobody else writes; read inside the child. */
  path: string;
  /** The name it came with; only its extension matters. */
  name: string;
}

export interface MakeJob {
  path: string;
  facts: PictureFacts;
  radiograph: boolean;
  flip: boolean;
  /** Which frame of a DICOM object; counts from 1, 1 when absent. */
  frame?: number | undefined;
  /** Key of the map from source UIDs to new ones, in hex; DICOM only. */
  uidKey?: string | undefined;
  /** Boxes of the display picture to be painted solid. */
  covers?: readonly FoundBox[] | undefined;
  /** Where the child writes the display picture and the stripped bytes; null writes neither. */
  into: { display: string; stripped: string } | null;
}

/** A de-identified DICOM copy of a stripped object, covers painted in; only for pictures that have been searched. */
export interface CopyJob {
  /** Our own stripped object. */
  path: string;
  covers: readonly FoundBox[];
  /** The display picture, in whose pixels covers count, was flipped; the stored object never is. */
  flipped: boolean;
  into: string;
}

/** Looks for text and faces in the display picture that an original makes; writes nothing. */
export interface SearchJob {
  path: string;
  facts: PictureFacts;
  radiograph: boolean;
  flip: boolean;
  frame?: number | undefined;
}

/** Boxes in pixels of the display picture. */
export interface Searched {
  texts: FoundText[];
  faces: FoundFace[];
  widthPx: number;
  heightPx: number;
}

/** Reads one finished file as a stranger would. */
export interface AuditJob {
  path: string;
  /** As hits name it. */
  name: string;
  terms: AuditTerms;
  /** Texts that a person decided to keep on pictures of this file. */
  kept?: readonly string[];
}

export interface ShrinkJob {
  /** A display picture. */
  path: string;
  maxWidthPx: number;
  maxHeightPx: number;
  grey: boolean;
  /** JPEG quality 1-100; 88 when absent. */
  quality?: number | undefined;
}

/** A job as it travels to a child. */
export type PictureJob =
  | { kind: 'identify'; job: IdentifyJob }
  | { kind: 'make'; job: MakeJob; pixelLimit: number }
  | { kind: 'copy'; job: CopyJob }
  | { kind: 'search'; job: SearchJob; pixelLimit: number }
  | { kind: 'audit'; job: AuditJob; pixelLimit: number }
  | { kind: 'reduce'; job: ShrinkJob };

/** One function per kind of job: what a child can do. */
export interface JobHandlers {
  identify(job: IdentifyJob): Promise<Outcome<PictureFacts>>;
  make(job: MakeJob, pixelLimit: number): Promise<Outcome<Made>>;
  copy(job: CopyJob): Promise<Outcome<null>>;
  search(job: SearchJob, pixelLimit: number): Promise<Outcome<Searched>>;
  audit(job: AuditJob, pixelLimit: number): Promise<Outcome<AuditedFile>>;
  reduce(job: ShrinkJob): Promise<Outcome<Reduced>>;
}

/** From the parent to a child. */
export interface JobMessage {
  number: number;
  job: PictureJob;
}

/** From a child to the parent: once `ready`, then one `done` a job. */
export type ChildMessage =
  | { kind: 'ready' }
  | { kind: 'done'; number: number; outcome: Outcome<unknown>; residentBytes: number };

/** Exit code of a child that found itself over its memory limit. */
export const OVER_MEMORY_EXIT = 86;
