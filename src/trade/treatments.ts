import type { TreatmentKind, VisitState } from './visit-document.js';

/** Every kind with the words a sheet prints. */
export const TREATMENT_TITLES: Readonly<Record<TreatmentKind, string>> = {
  'root-canal-treatment': 'Root canal treatment',
  retreatment: 'Root canal retreatment',
  'root-end-surgery': 'Root-end surgery',
  'vital-pulp-therapy': 'Vital pulp therapy',
  pulpectomy: 'Pulpectomy',
  apexification: 'Apexification',
  regenerative: 'Regenerative treatment',
  repair: 'Repair',
  trauma: 'Treatment after trauma',
  emergency: 'Emergency treatment',
  consultation: 'Consultation',
};

export const TREATMENT_KINDS = Object.keys(TREATMENT_TITLES) as TreatmentKind[];

export const treatmentTitle = (kind: TreatmentKind): string => TREATMENT_TITLES[kind];

/** Every state of a visit with the words a sheet prints. */
export const VISIT_STATE_TITLES: Readonly<Record<VisitState, string>> = {
  finished: 'Finished',
  interim: 'Not finished, to be continued',
  emergency: 'Emergency visit, not finished',
  interrupted: 'Interrupted, not finished',
  consultation: 'Consultation, nothing treated',
};

export const VISIT_STATES = Object.keys(VISIT_STATE_TITLES) as VisitState[];

export const visitStateTitle = (state: VisitState): string => VISIT_STATE_TITLES[state];

/** States after which treatment goes on: a sheet says "not finished", the next step and when it is due. */
export const isUnfinished = (state: VisitState): boolean =>
  state === 'interim' || state === 'emergency' || state === 'interrupted';
