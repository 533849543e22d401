/** Audit: types laid first; the reading follows. */
import type { IdentifyingString } from '../../core/picture-facts.js';

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

export interface AuditedFile {
  hits: AuditHit[];
  possible: AuditHit[];
}
