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
  | { code: 'several-frames'; frames: number }
  | { code: 'frame-absent'; frame: number; frames: number }
  | { code: 'damaged'; format: string; what: string }
  | { code: 'unusual'; format: string; what: string }
  | { code: 'too-many-pixels'; megapixels: number; limitMegapixels: number }
  // stripping
  | { code: 'metadata-left'; kinds: string[] }
  | { code: 'pixels-changed' }
  // searching
  /** The search of the pixels for text or faces did not end. */
  | { code: 'not-searched'; what: 'text' | 'faces' }
  | { code: 'face'; because: 'extraoral' | 'found' }
  /** A box to be covered lies on what the picture is about; a person decides. */
  | {
      code: 'cover-over-anatomy';
      over: 'root-end' | 'filling' | 'lesion' | 'landmark';
      boxes: number;
      /** [x, y, width, height], pixels of the display picture. */
      places?: [number, number, number, number][];
    }
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
  /** The private records are encrypted and nobody has given the key. */
  | { code: 'locked' }
  /** Encryption of the private records was begun or ended by another command since this one started. */
  | { code: 'protection-changed' }
  /** The pictures of a patient who was erased on request. */
  | { code: 'erased' }
  // machine
  | { code: 'worker-died'; what: 'time' | 'memory' | 'crash' }
  | { code: 'disk'; what: string }
  | { code: 'ledger-damaged'; file: string; line: number | null }
  | { code: 'practice-busy'; what: string; pid: number; host: string; since: string }
  | { code: 'bug'; what: string };

export type OtherPatientBecause =
  | 'name-in-metadata'
  | 'name-in-pixels'
  | 'capture-dates'
  | 'filed-under-another'
  | 'chart-of-another';

export type ReasonCode = Reason['code'];
