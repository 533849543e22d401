import { toothWords, universalOf } from '../../../trade/teeth.js';
import type { ToothRef } from '../../../trade/tooth-ref.js';
import type { TreatmentKind } from '../../../trade/visit-document.js';
import { capital, clause, TREATMENT_TEXT } from './stage-words.js';

/** "Lower right first molar: root canal treatment". */
export function titleOf(tooth: ToothRef, kind: TreatmentKind | null): string {
  const words = toothOf(tooth);
  return `${capital(words)}: ${kind === null ? 'treatment not recorded' : TREATMENT_TEXT[kind]}`;
}

export const toothOf = (tooth: ToothRef): string =>
  'fdi' in tooth ? toothWords(tooth.fdi) : `supernumerary tooth, ${clause(tooth.supernumerary)}`;

/** "FDI 46, Universal 30": two notations, since a bare 26 is an incisor to one reader and a molar to another. */
export const notationsOf = (tooth: ToothRef): string | null =>
  'fdi' in tooth ? `FDI\u00a0${tooth.fdi}, Universal\u00a0${universalOf(tooth.fdi)}` : null;
