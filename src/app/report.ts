import { sentenceOf } from '../core/reason-sentence.js';
import type { Reason } from '../core/reasons.js';
import type { Finding } from '../trade/case-record.js';

/** What `intake` and `check` print: one object per visit and tooth. Keys are a contract. */
export interface VisitReport {
  /** Name of the dropped folder. */
  visit: string;
  /** Case code; null when no case was made. */
  case: string | null;
  status: 'done' | 'held' | 'waiting' | 'refused' | 'duplicate' | 'revised';
  revision: number;
  /** Why nothing was made of the visit. */
  reason?: ReasonReport;
  /** With status `waiting`: what for. */
  waitingFor?: string;
  pictures: PictureReport[];
  findings: Finding[];
  errors: ErrorReport[];
  /** Relative to the practice folder. */
  sheets: string[];
}

export interface PictureReport {
  source: string;
  sha256: string | null;
  status: 'kept' | 'held' | 'failed' | 'duplicate' | 'unlabelled';
  /** Relative to the practice folder. */
  image: string | null;
  covered: number;
  look: string[];
  reason?: ReasonReport;
  /** With status `duplicate`: what it equals. */
  duplicateOf?: string;
  notes?: string[];
}

export interface ReasonReport {
  code: Reason['code'];
  sentence: string;
}

export const reported = (reason: Reason): ReasonReport => ({
  code: reason.code,
  sentence: sentenceOf(reason),
});

/** A picture of which nothing is shown. */
export const unmade = (source: string, sha256: string | null, reason: Reason): PictureReport => ({
  source,
  sha256,
  status: 'held',
  image: null,
  covered: 0,
  look: [],
  reason: reported(reason),
});

export interface ErrorReport {
  file: string;
  line: number;
  column: number;
  field: string;
  got?: string;
  allowed?: string[];
  sentence: string;
}

/** Exit codes of one visit; the meaning of each is in the README. */
export function exitOfReport(report: VisitReport): 0 | 1 | 2 | 3 {
  if (report.pictures.some((picture) => picture.status === 'failed')) return 1;
  if (report.status === 'refused') return 2;
  if (report.status === 'held') return 3;
  if (report.status === 'waiting' || report.status === 'duplicate') return 0;
  const open = report.pictures.some(
    (picture) => picture.status === 'held' || picture.status === 'unlabelled',
  );
  return open || report.errors.length > 0 ? 3 : 0;
}

const PRECEDENCE = [1, 2, 4, 3, 0] as const;

/** Several visits: the first of 1, 2, 4, 3, 0 that occurs. */
export function worstExit(exits: readonly number[]): number {
  return PRECEDENCE.find((code) => exits.includes(code)) ?? 0;
}
