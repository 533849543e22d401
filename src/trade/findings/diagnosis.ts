import type { Finding } from '../case-record.js';
import { DIAGNOSIS_TERMS, lookUpDiagnosis } from '../diagnoses.js';
import { finding, type Rule } from './rule.js';

/** Only a note: other lists of terms are in use, and a diagnosis is the clinician's. */
export const diagnosisRules: Rule[] = [
  ({ course }) => [
    ...noteOn('pulp', course.diagnosis.pulp, DIAGNOSIS_TERMS.pulp),
    ...noteOn('apex', course.diagnosis.apex, DIAGNOSIS_TERMS.apex),
  ],
];

function noteOn(key: string, words: string | null, terms: readonly string[]): Finding[] {
  if (words === null) return [];
  const { listed, meant } = lookUpDiagnosis(words, terms);
  if (listed) return [];
  const offer =
    meant.length === 0
      ? 'Leave it, or use one of its terms.'
      : `Did you mean ${meant.map((term) => `"${term}"`).join(' or ')}?`;
  return [
    finding(
      'diagnosis-unlisted',
      'note',
      `The ${key} diagnosis is not a term of the list ${DIAGNOSIS_TERMS.list}. ${offer}`,
      DIAGNOSIS_TERMS.source,
    ),
  ];
}
