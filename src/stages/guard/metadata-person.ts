import { fold } from '../../core/fold.js';
import type { SamePerson } from '../../core/names.js';
import type { IdentifyingString } from '../../core/picture-facts.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { compareName } from './compare-person.js';

type Patient = VisitDocument['patient'];

/** Fields of whoever made or owns the picture: no patient. */
const MAKER_FIELDS =
  /artist|owner|copyright|creator|author|by-?line|credit|photographer|software|serial|physician|operator|institution/i;

/**
 * True when what a picture says about its patient is clearly somebody else: a name, a number or a birth date. One
 * such field is enough, even beside others that agree: father and son share a name, not a birth date.
 */
export function saysOtherPatient(found: readonly IdentifyingString[], patient: Patient): boolean {
  const about = found.filter(({ field }) => !MAKER_FIELDS.test(field));
  const verdicts = about.map((one) => ({ kind: one.kind, verdict: verdictOn(one, patient) }));
  const agrees = (kind: string): boolean =>
    verdicts.some((one) => one.kind === kind && one.verdict === 'same');
  // sensor software numbers patients its own way; name and birth date together outweigh that
  const knownByName = agrees('person-name') && agrees('birth-date');
  // and a name changes with marriage; number and birth date together do not
  const knownByNumber = agrees('person-id') && agrees('birth-date');
  const isOutweighed = (kind: IdentifyingString['kind']): boolean =>
    (knownByName && kind === 'person-id') || (knownByNumber && kind === 'person-name');
  return verdicts.some(({ kind, verdict }) => verdict === 'other' && !isOutweighed(kind));
}

function verdictOn({ kind, value }: IdentifyingString, patient: Patient): SamePerson {
  switch (kind) {
    case 'person-name':
      return onName(value, patient);
    case 'person-id':
      return onNumber(value, patient);
    case 'birth-date':
      return onBirth(value, patient.born);
    case 'free-text':
      return onText(value, patient);
    case 'other':
      return 'unknown';
  }
}

const DENTIST = /(?:^|[\s^,(])(?:dr|prof|doctor|professor|doc)(?:[\s.^,)]|$)/i;

function onName(value: string, patient: Patient): SamePerson {
  if (DENTIST.test(value)) return 'unknown';
  if (/\d/.test(value))
    return /\p{L}{2,}[\s^,]+\p{L}{2,}/u.test(value)
      ? onWords(value.replace(/[\p{N}#]+/gu, ' '), patient)
      : 'unknown';
  // DICOM PS3.5 6.2: up to three spellings of one name, parted by "="
  const spelt = value.split('=').map((one) => onWords(one, patient));
  if (spelt.includes('same')) return 'same';
  return spelt.includes('other') ? 'other' : 'unknown';
}

/** The names of a sidecar are one person's: whole names, former names, or first and last by themselves. */
const onWords = (value: string, { names }: Patient): SamePerson => compareName(value, names);

const numberKey = (text: string): string =>
  fold(text)
    .replace(/[^\p{L}\p{N}]/gu, '')
    .replace(/^0+(?=.)/, '');

/** Zeros in front and signs between are no difference, nor is a prefix that a device sets in front. */
function onNumber(value: string, patient: Patient): SamePerson {
  const there = numberKey(value);
  const here = numberKey(patient.chart ?? '');
  if (there === '' || here === '' || /^(?:0|unknown|none|null|na|anonym\w*)$/.test(there)) return 'unknown';
  if (there === here) return 'same';
  const [short, long] = there.length < here.length ? [there, here] : [here, there];
  if (short.length >= 4 && long.endsWith(short) && !/\d/.test(long.at(-short.length - 1) ?? ''))
    return 'same';
  return /\d/.test(there) ? 'other' : onName(value, patient);
}

/** Days that software writes where it knows none. */
const NO_DAY = new Set(['19000101', '19700101', '00010101', '19010101', '18991230']);

function onBirth(value: string, born: string | null): SamePerson {
  const found = /^\s*(\d{4})\D?(\d{2})\D?(\d{2})(?!\d)/.exec(value);
  if (found === null || born === null) return 'unknown';
  const there = found.slice(1).join('');
  const real = /^(?:18|19|20|21)\d{2}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])$/.test(there);
  if (!real || NO_DAY.has(there)) return 'unknown';
  return there === born.replaceAll('-', '') ? 'same' : 'other';
}

const CARET_NAME = /[\p{L}\p{M}'-]{2,}\^[\p{L}\p{M}'-]{2,}(?:\^[\p{L}\p{M}'.-]*)*/gu;
const LABELLED_NAME =
  /(?:^|[^\p{L}])(?:patient(?:'s)?(?:\s*name)?|pat\.?\s*name)\s*[:=]\s*([\p{L}\p{M}'., -]{3,60})/giu;

/** Free text names a patient only in a form that nothing else has: LAST^FIRST, or after "Patient:". */
function onText(value: string, patient: Patient): SamePerson {
  const forms = [...value.matchAll(CARET_NAME)].map(([whole]) => whole);
  const labelled = [...value.matchAll(LABELLED_NAME)].map(([, name = '']) => name);
  const verdicts = [...forms, ...labelled].map((one) => onName(one, patient));
  if (verdicts.includes('other')) return 'other';
  return verdicts.includes('same') ? 'same' : 'unknown';
}
