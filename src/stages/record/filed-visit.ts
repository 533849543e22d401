import type { PictureFacts } from '../../core/picture-facts.js';
import type { Reason } from '../../core/reasons.js';
import type { ImageEntry, VisitDocument } from '../../trade/visit-document.js';

/** A picture of one visit as it stands on file in `private/visits/<id>/pictures.json`. */
export interface FiledPicture {
  /** Name in the dropped folder; private. */
  source: string;
  sha256: string;
  /** Extension of the original in private/originals, without the dot. */
  extension: string;
  status: 'kept' | 'held' | 'failed' | 'unlabelled' | 'duplicate';
  reason: Reason | null;
  /** For a duplicate: what it equals, as the practice knows it. */
  duplicateOf: string | null;
  /** Null while the bytes could not even be recognised. */
  facts: PictureFacts | null;
  entry: ImageEntry | null;
  /** Order of filing within the case, the NN of the image name: kept for good, even while nothing is shown. */
  number: number | null;
  shown: ShownPicture | null;
}

/** The display picture made from an original. */
export interface ShownPicture {
  /** Relative to the case folder. */
  file: string;
  sha256: string;
  widthPx: number;
  heightPx: number;
  radiograph: boolean;
  flipped: boolean;
  processing: string[];
  /** Boxes painted over, in pixels of the display picture. */
  covers?: { box: [number, number, number, number]; kind: string; doubtful: boolean }[];
  /** What a person should still look at, as sentences. */
  look?: string[];
  /** Which finders searched it; absent = a picture from before there were any, which `share` refuses. */
  searched?: string;
  /** Absent: anyone. Else the audiences that may see it; empty = the private record only. It then lies in private/. */
  audiences?: string[];
  /** Frame of a DICOM object, from 1. */
  frame?: number;
}

/** One visit of one tooth as it stands on file. */
export interface FiledVisit {
  id: string;
  revision: number;
  document: VisitDocument;
  pictures: FiledPicture[];
}
