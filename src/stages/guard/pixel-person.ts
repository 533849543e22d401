import type { SamePerson } from '../../core/names.js';
import type { FoundText } from '../../finders/finder.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { compareBirth, compareName, compareNumber } from './compare-person.js';
import { labelledName } from './name-forms.js';
import { type Statement, statementsIn } from './statements.js';

type Patient = VisitDocument['patient'];

/** Mean confidence of a reading, 0-1, under which it accuses nobody. */
const SURE_READING = 0.7;

/** True when the texts read from one picture clearly speak of another patient. */
export function showsOtherPatient(texts: readonly FoundText[], patient: Patient): boolean {
  const said = statementsIn(texts).map((one) => ({ ...one, verdict: verdictOn(one, patient) }));
  const agrees = (kind: Statement['kind'], weak = true): boolean =>
    said.some((one) => one.kind === kind && one.verdict === 'same' && (weak || !one.weak));
  const isOutweighed = (one: Statement): boolean => {
    switch (one.kind) {
      case 'name':
        // a name changes with marriage; number and birth date together do not
        return one.weak ? agrees('birth') || agrees('number') : agrees('birth') && agrees('number');
      case 'number':
        return agrees('name', false) && (one.weak || agrees('birth'));
      case 'birth':
        return false;
    }
  };
  return said.some((one) => one.verdict === 'other' && one.confidence >= SURE_READING && !isOutweighed(one));
}

function verdictOn({ kind, value }: Statement, patient: Patient): SamePerson {
  switch (kind) {
    case 'name': {
      const name = labelledName(value);
      return name === null ? 'unknown' : compareName(name, patient.names);
    }
    case 'number':
      return onNumber(value, patient.chart);
    case 'birth':
      return compareBirth(value, patient.born);
  }
}

/** A number may be read in two pieces, and other data may follow it: the reading that fits best counts. */
function onNumber(value: string, chart: string | null): SamePerson {
  const words = value.split(' ');
  const verdicts = [1, 2, 3].map((count) => compareNumber(words.slice(0, count).join(''), chart));
  const isDay = compareBirth(value, '1900-01-01') !== 'unknown';
  if (verdicts.includes('same')) return 'same';
  return verdicts[0] === 'unknown' || isDay ? 'unknown' : verdicts[0]!;
}
