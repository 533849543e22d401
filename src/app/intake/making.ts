import type { Reason } from '../../core/reasons.js';
import type { Practice } from '../../practice/index.js';
import type { ShownPicture } from '../../stages/record/index.js';
import type { Answer } from '../../trade/visit-document.js';
import type { StoredVisit } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { Fate } from './sort-pictures.js';

export type ToMake = Extract<Fate, { kind: 'make' }>;

/** The context in which pictures of one visit are made. */
export interface Making {
  practice: Practice;
  ports: Ports;
  /** False writes nothing, for `check`. */
  write: boolean;
  /** The visit on file that this drop revises. */
  earlier: StoredVisit | null;
  answers: readonly Answer[];
}

/** A display picture that waits in private/tmp for its visit to be filed, or is on file already. */
export type MadePicture =
  | {
      kind: 'made';
      fate: ToMake;
      waitsAt: string | null;
      shown: Omit<ShownPicture, 'file'>;
      ext: 'png' | 'jpg';
    }
  | { kind: 'on-file'; fate: ToMake; shown: ShownPicture; number: number }
  | { kind: 'held' | 'failed'; fate: ToMake; reason: Reason };
