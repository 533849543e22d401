import { nearest } from '../core/edit-distance.js';

/**
 * Diagnosis terms as data, with the name of the list, so that a newer list can be added without touching old cases.
 * They never restrict what may be written; they only offer a term that may have been meant.
 */
export interface DiagnosisTerms {
  list: string;
  source: string;
  pulp: readonly string[];
  apex: readonly string[];
}

export const DIAGNOSIS_TERMS: DiagnosisTerms = {
  list: 'AAE 2009/2013',
  source:
    'AAE consensus conference on diagnostic terminology, J Endod 2009;35(12), repeated by the AAE in 2013 (apical terms partly from memory)',
  pulp: [
    'normal pulp',
    'reversible pulpitis',
    'symptomatic irreversible pulpitis',
    'asymptomatic irreversible pulpitis',
    'pulp necrosis',
    'previously treated',
    'previously initiated therapy',
  ],
  apex: [
    'normal apical tissues',
    'symptomatic apical periodontitis',
    'asymptomatic apical periodontitis',
    'acute apical abscess',
    'chronic apical abscess',
    'condensing osteitis',
  ],
};

/**
 * `listed`: the words are a term of the list. Otherwise `meant` holds the terms that contain the words, or else the
 * one that is a slip away. A slip in the first two letters offers nothing: "irreversible" is no slip of "reversible".
 */
export function lookUpDiagnosis(
  words: string,
  terms: readonly string[],
): { listed: boolean; meant: string[] } {
  const said = words.normalize('NFC').trim().toLowerCase().replace(/\s+/g, ' ');
  if (terms.includes(said)) return { listed: true, meant: [] };
  const containing = said.length < 4 ? [] : terms.filter((term) => ` ${term} `.includes(` ${said} `));
  if (containing.length > 0) return { listed: false, meant: containing };
  const slip = nearest(
    said,
    terms.filter((term) => term.slice(0, 2) === said.slice(0, 2)),
  );
  return { listed: false, meant: slip === null ? [] : [slip] };
}
