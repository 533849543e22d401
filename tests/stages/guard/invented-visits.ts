/** Invented people and how devices and staff write them; seeded, nobody real. */
import { hash32 } from '../../../sample-images/drawing/seeded.js';
import { fold } from '../../../src/core/fold.js';

export interface Invented {
  given: string;
  last: string;
  born: string;
  chart: string;
}

const GIVEN =
  'Rowan Juniper Zoë Maximilian Priya Ines Bo Wei Anne-Marie Jón Odile Tamsin Kwame Björn Lucía Farid Noor Ewa Piet Saoirse'.split(
    ' ',
  );
const LAST =
  "Testcase Samplewood Dummyson Inventado Beispiel Voorbeeld Muster-Probe O'Invent Fictus Exempel Möckel Ng Attrappe Primjer Esimerkki Zkouska Esempi Vzorova Naginfelt Testowska".split(
    ' ',
  );

const two = (value: number): string => String(value).padStart(2, '0');

export function inventPerson(seed: number): Invented {
  const roll = (what: number, sides: number): number => hash32(seed, what, 0, 71) % sides;
  return {
    given: GIVEN[roll(1, GIVEN.length)]!,
    last: LAST[roll(2, LAST.length)]!,
    born: `${1931 + roll(3, 75)}-${two(1 + roll(4, 12))}-${two(1 + roll(5, 28))}`,
    chart: `${'ABC'[roll(6, 3)]}-${10_000 + roll(7, 89_999)}`,
  };
}

/** Someone with another name, birth date and number: no part of the name is alike. */
export function inventOther(person: Invented, seed: number): Invented {
  for (let next = seed; ; next += 1) {
    const other = inventPerson(next);
    const apart = [...other.born].filter((sign, at) => sign !== person.born[at]).length;
    if (other.given !== person.given && other.last !== person.last && apart > 2) return other;
  }
}

export const patientOf = ({ given, last, born, chart }: Invented) => ({
  chart,
  names: [`${given} ${last}`],
  born,
});

const [upper, plain] = [(text: string) => text.toUpperCase(), (text: string) => fold(text)];
const writtenOut = (text: string): string => text.replace(/ö/g, 'oe').replace(/ü/g, 'ue').replace(/ä/g, 'ae');
const mistyped = (text: string): string =>
  text.length < 6 ? text : text.slice(0, 3) + text[4] + text[3] + text.slice(5);
const misread = (text: string): string => text.replace(/O/i, '0').replace(/l|I/, '1').replace(/S/, '5');

/** Spellings under which one person turns up. */
export const SPELLINGS: ((person: Invented) => string)[] = [
  ({ given, last }) => `${upper(last)}, ${upper(given)}`,
  ({ given, last }) => `${given} ${last}`,
  ({ given, last }) => `${last}^${given}`,
  ({ given, last }) => `${upper(plain(last))}^${upper(plain(given))}^^`,
  ({ given, last }) => `${last}, ${given[0]}.`,
  ({ given, last }) => `${writtenOut(last)}, ${writtenOut(given)}`,
  ({ given, last }) => `${mistyped(last)}, ${given}`,
  ({ given, last }) => `${last.replace('-', ' ')} ${given.replace('-', '')}`,
  ({ given, last }) => `${given} Kim ${last}`,
  ({ given, last }) => `${last.slice(0, 8)}, ${given.slice(0, 8)}`,
  ({ given, last }) => `Mr ${given} ${last}`,
  ({ given, last }) => `${upper(last)} ${upper(given)}`,
];

const dotted = (born: string): string => born.split('-').toReversed().join('.');

/** What a device prints into a picture: one entry a line. */
export const OVERLAYS: ((person: Invented) => string[])[] = [
  ({ given, last }) => [`${upper(last)}, ${upper(given)}`],
  ({ given, last, chart }) => [`${upper(last)} ${upper(given)}`, `Chart ${chart}`],
  ({ given, last }) => [`Patient: ${given} ${last}`],
  ({ born }) => [`DOB: ${dotted(born)}`],
  ({ chart }) => [`ID: ${chart}`],
  ({ given, last, born }) => [`Name: ${last} ${given}`, `geb. ${dotted(born)}`],
  ({ given, last, chart, born }) => [`${last}, ${given}`, `Pat-Nr. ${chart}`, `Born ${born}`],
  ({ given, last }) => ['Patient', `${given} ${last}`],
  ({ given, last, chart }) => [`Pat. ${last}, ${given}   ID ${chart}`],
  ({ given, last }) => [`${misread(upper(last))}, ${misread(upper(given))}`],
];
