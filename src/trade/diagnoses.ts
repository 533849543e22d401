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

/** `listed`: the words are a term of the list; otherwise the nearest term, if one is near enough to be a slip. */
export function lookUpDiagnosis(
  words: string,
  terms: readonly string[],
): { listed: boolean; nearest: string | null } {
  const said = words.normalize('NFC').trim().toLowerCase().replace(/\s+/g, ' ');
  if (terms.includes(said)) return { listed: true, nearest: said };
  const ranked = terms
    .map((term) => ({ term, distance: editDistance(said, term) }))
    .sort((a, b) => a.distance - b.distance);
  const best = ranked[0];
  return {
    listed: false,
    nearest: best && best.distance <= Math.ceil(best.term.length / 5) ? best.term : null,
  };
}

/** Levenshtein distance: letters to add, drop or change. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row.at(-1) as number;
}
