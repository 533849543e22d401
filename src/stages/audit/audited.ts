import type { IdentifyingString } from '../../core/picture-facts.js';
import type { Reason } from '../../core/reasons.js';
import type { FinderPicture, FoundText } from '../../finders/finder.js';

/** What is searched for, besides kinds such as dates and phone numbers. Private; plain data, since it travels to a child. */
export interface AuditTerms {
  patients: { chart: string | null; names: string[]; born: string | null; visitDates: string[] }[];
  /** Everything identifying lifted from source metadata. */
  strings: IdentifyingString[];
  /** Source file and folder names. */
  fileNames: string[];
  /** Lines of --terms FILE, searched for as they are. */
  lines: string[];
  /** Letterhead lines and share codes: forms that may stand. */
  allowed: string[];
}

/** Never the value itself. */
export interface AuditHit {
  file: string;
  /** "page 2, text", "member case.pdf, picture 3, pixels at 10,20". */
  where: string;
  kind: string;
}

/** A part that could not be read; what holds one is never clean. */
export interface UnreadPart {
  where: string;
  reason: Reason;
}

export interface AuditedFile {
  hits: AuditHit[];
  /** Listed only: a person may want to look. */
  possible: AuditHit[];
  unread: UnreadPart[];
}

/** What the caller lends: the finder of text in pixels and its allow-list, since stages do not know each other. */
export interface AuditTools {
  searchTexts(picture: FinderPicture): Promise<FoundText[]>;
  isAllowedText(text: string): boolean;
  /** Pixels above which no picture is opened. */
  pixelLimit: number;
  /** Where the reader of PDF keeps its character maps, fonts and decoders; it reads them itself. */
  pdfReaderFolder: string;
}

export const NO_TERMS: AuditTerms = { patients: [], strings: [], fileNames: [], lines: [], allowed: [] };
