import type { VisitDocument } from '../../trade/visit-document.js';

/** A mistake in a sidecar, at the value it is about; a missing key is placed at what should hold it. */
export interface SidecarError {
  file: string;
  /** Both 1-based, in characters of the line. */
  line: number;
  column: number;
  /** Path within its document, "images[1].stage"; empty for the file as a whole. */
  field: string;
  /** What was written; left out under `patient` and for free text. */
  got?: string;
  allowed?: string[];
  /** `caption-identifies` for text held because it seems to identify the patient. */
  code?: 'caption-identifies';
  /** What was seen, then what to do. */
  sentence: string;
}

export interface SidecarDocument {
  document: VisitDocument;
  /** Mistakes that held an entry, a key or a text of this document. */
  errors: SidecarError[];
  /** Pictures whose entry was held, as the sidecar names them, with the fields at fault. */
  heldFiles: HeldFile[];
}

export interface HeldFile {
  file: string;
  fields: string[];
  /** 1-based line of the entry. */
  line?: number;
}

export type SidecarResult =
  | { kind: 'refused'; errors: SidecarError[] }
  | { kind: 'read'; documents: SidecarDocument[] };

/** `visit.yaml:15:11: images[1].stage: "acess" is not a stage. Did you mean "access"? Allowed: ...` */
export function formatError(error: SidecarError): string {
  const place = `${error.file}:${error.line}:${error.column}`;
  return [place, error.field, error.sentence].filter((part) => part !== '').join(': ');
}
