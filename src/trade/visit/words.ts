import { STAGES } from '../stages.js';
import type { TreatmentKind, VisitState } from '../visit-document.js';

/** Words a sidecar may use where a word is chosen from a list, in the order messages name them. */
export const VISIT_STATES = [
  'finished',
  'interim',
  'emergency',
  'interrupted',
  'consultation',
] as const satisfies readonly VisitState[];

export const TREATMENT_KINDS = [
  'root-canal-treatment',
  'retreatment',
  'root-end-surgery',
  'vital-pulp-therapy',
  'pulpectomy',
  'apexification',
  'regenerative',
  'repair',
  'trauma',
  'emergency',
  'consultation',
] as const satisfies readonly TreatmentKind[];

export const STAGE_WORDS = [...STAGES.before, ...STAGES.during, ...STAGES.after, 'other'] as const;

export const BANDS = ['before', 'during', 'after'] as const;

export const SIDES = ['up', 'down', 'left', 'right'] as const;
