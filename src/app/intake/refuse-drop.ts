import type { Reason } from '../../core/reasons.js';
import { isLocked, type Practice } from '../../practice/index.js';
import type { Drop } from './drop.js';

/**
 * Why a drop cannot even be looked up: it brings pictures of an erased patient, or the private records are locked. The
 * originals of a locked drop are stored by now; of an erased patient nothing is stored and nothing written down.
 */
export function refusalOf(practice: Practice, drop: Drop): Reason | null {
  if (bringsErased(drop)) return { code: 'erased' };
  return isLocked(practice) ? { code: 'locked' } : null;
}

export const bringsErased = ({ files }: Drop): boolean =>
  files.some(({ reason }) => reason?.code === 'erased');
