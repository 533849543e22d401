import type { Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
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
  /** Where the child writes the display picture and the stripped bytes; null writes neither. */
  into: { display: string; stripped: string } | null;
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
  | { kind: 'reduce'; job: ShrinkJob };

/** One function per kind of job: what a child can do. */
export interface JobHandlers {
  identify(job: IdentifyJob): Promise<Outcome<PictureFacts>>;
  make(job: MakeJob, pixelLimit: number): Promise<Outcome<Made>>;
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
