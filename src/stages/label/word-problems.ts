import { findIdentifiers, type IdentityTerms } from '../../core/terms.js';
import { fieldOf, type Problem } from './problem.js';
import type { SidecarError } from './sidecar-error.js';

/** Words a problem; what was written is shown only if it holds nothing of this patient's identity. */
export function wordProblems(
  problem: Problem,
  terms: IdentityTerms,
): Omit<SidecarError, 'file' | 'line' | 'column'> {
  const telling = (text: string): boolean => findIdentifiers(text, terms).some((kind) => OWN.has(kind));
  const got = problem.got === null || telling(problem.got) ? null : problem.got;
  const path = problem.path.filter((step) => typeof step === 'number' || !telling(String(step)));
  return {
    field: fieldOf(path),
    ...(got === null ? {} : { got }),
    ...(problem.allowed === undefined ? {} : { allowed: problem.allowed }),
    ...(problem.code === undefined ? {} : { code: problem.code }),
    sentence: problem.say(got),
  };
}

/** A mistyped visit date may be shown to who typed it; the patient's own data may not. */
const OWN = new Set(['name', 'chart', 'born', 'contact']);
