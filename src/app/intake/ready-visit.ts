import type { FiledPicture } from '../../stages/record/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import type { StoredVisit } from '../on-file.js';
import type { AbsentPicture } from './candidates.js';
import type { Belonging } from './find-case.js';
import type { MadePicture } from './making.js';
import type { Fate } from './sort-pictures.js';

/** All that is known of one document's visit, ready to be put on file. */
export interface ReadyVisit {
  belonging: Belonging;
  document: VisitDocument;
  errors: StoredVisit['errors'];
  folder: string;
  sidecar: Uint8Array;
  fates: Fate[];
  absent: AbsentPicture[];
  made: MadePicture[];
  /** Of the earlier revision, and no concern of this one. */
  left: FiledPicture[];
}
