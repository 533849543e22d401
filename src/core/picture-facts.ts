import type { FormatName } from './format-name.js';

/**
 * What an original says about itself, read before anything is made of it. Private: identifying strings are kept
 * only for the guard, the private journal and the search of finished output.
 */
export interface PictureFacts {
  format: FormatName;
  /** Stored pixels, before the orientation tag is applied. */
  widthPx: number;
  heightPx: number;
  /** EXIF/TIFF 6.0 orientation 1-8; 1 when absent. */
  orientation: number;
  /** Bits of one channel as stored: 8 or 16. */
  bitsPerChannel: number;
  /** True for a picture with one grey channel. */
  grey: boolean;
  /** Capture time as the camera wrote it, "2026-02-11T09:41:03.25"; no time-zone conversion. */
  takenAt: string | null;
  /** Maker, model and serial, joined: tells devices apart. Private. */
  device: string | null;
  /** Maker and model only, as `sources` in practice.yaml names it. */
  source: string | null;
  /** Kinds of metadata found and how many entries, e.g. {exif: 31, gps: 4, xmp: 1}: for the private journal. */
  carriers: Record<string, number>;
  /** Strings that may identify, each with the kind of field it came from. */
  identifying: IdentifyingString[];
  /** Frames of a DICOM object; absent = 1. */
  frames?: number;
  /** What a DICOM object says of its teeth (FDI codes) and side; absent when it says nothing. Identifies nobody. */
  object?: { teeth: number[]; side: 'left' | 'right' | 'both' | null };
  /** Sentences worth telling, e.g. "the extension says JPG, the bytes say PNG". */
  notes: string[];
}

export interface IdentifyingString {
  /** `person-name`: an explicit patient field; `free-text`: could hold one; `other`: device, owner, place. */
  kind: 'person-name' | 'person-id' | 'birth-date' | 'free-text' | 'other';
  field: string;
  value: string;
}
