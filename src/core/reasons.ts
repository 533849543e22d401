/**
 * Why something was held, refused or failed. A reason carries facts, never wording and never an identifying
 * value (`other-patient` names pictures, not people); `sentenceOf` in reason-sentence.ts makes the wording.
 */
export type Reason =
  // arriving
  | { code: 'empty-file' }
  | { code: 'not-a-file'; what: 'link' | 'pipe' | 'socket' | 'device' | 'folder-too-deep' }
  | { code: 'name-not-utf8' }
  | { code: 'names-collide'; names: string[] }
  | { code: 'changing' }
  | { code: 'too-large'; bytes: number; limitBytes: number }
  | { code: 'unreadable'; what: string }
  | { code: 'listed-absent'; line: number | null }
  // formats
  | { code: 'unknown-format' }
  | { code: 'disc-index' }
  | { code: 'format-not-yet'; format: 'DICOM' | 'HEIC' }
  | { code: 'damaged'; format: string; what: string }
  | { code: 'unusual'; format: string; what: string }
  | { code: 'too-many-pixels'; megapixels: number; limitMegapixels: number }
  // stripping
  | { code: 'metadata-left'; kinds: string[] }
  | { code: 'pixels-changed' }
  // labelling
  | { code: 'unlabelled' }
  | { code: 'replaced' }
  | { code: 'entry-faulty'; fields: string[] }
  | { code: 'caption-identifies'; field: string }
  // the visit
  | { code: 'other-patient'; because: OtherPatientBecause; pictures: string[] }
  /** `instead`: a file that is probably meant to be it; `empty`: there is nothing else in the folder either. */
  | { code: 'no-sidecar'; instead?: string; empty?: boolean }
  | { code: 'two-sidecars'; names: string[] }
  | { code: 'sidecar-unread'; what: 'empty' | 'no-plain-file' | 'changing' | 'too-large' | 'unreadable' }
  | { code: 'sidecar-refused' }
  // machine
  | { code: 'worker-died'; what: 'time' | 'memory' | 'crash' }
  | { code: 'disk'; what: string }
  | { code: 'ledger-damaged'; file: string; line: number | null }
  | { code: 'practice-busy'; what: string; pid: number; host: string; since: string }
  | { code: 'bug'; what: string };

export type OtherPatientBecause =
  | 'name-in-metadata'
  | 'capture-dates'
  | 'filed-under-another'
  | 'chart-of-another';

export type ReasonCode = Reason['code'];
