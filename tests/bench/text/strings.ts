/** What programs print into pictures. Every person, clinic and number is invented. */
import type { Dice } from './dice.js';

/** What a string is; an identifier tells who or when, the others tell side, place or size. */
export type StringKind = 'name' | 'date' | 'chart' | 'clinic' | 'number' | 'side' | 'tooth' | 'scale';

const GIVEN = [
  'Rowan',
  'Zoë',
  'Łucja',
  'Ingrid',
  'Anaïs',
  'Björn',
  'Mateo',
  'Noor',
  'Ines',
  'Øystein',
  'Çelik',
  'José',
  'Agnes',
  'Tom',
  'Ида',
  'Пётр',
  'Ελένη',
  'Νίκος',
];
const FAMILY = [
  'Testcase',
  'Samplewood',
  'Żądłowska',
  'Müllerbach',
  'Fiktívny',
  'Inventado',
  'Dummyson',
  'Ångmark',
  'Nonesuch',
  'Ejemplar',
  'Muster-Lind',
  'Å. Probe',
];
const CYRILLIC_FAMILY = ['Пробный', 'Образцова', 'Выдуманный'];
const GREEK_FAMILY = ['Δοκιμή', 'Παράδειγμα', 'Υποθετικός'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const CLINICS = [
  'Clinica Ejemplo',
  'Praxis Musterstadt',
  'Nowhere Root Canal Rooms',
  'Zahnarzt Dr. Fiktiv',
  'Cabinet du Port Inventé',
  'Sample Street 12',
  'Tel 0555 010 199',
  'www.example.org',
  'Room 2 Chair B',
];

const two = (value: number): string => String(value).padStart(2, '0');
const digits = (dice: Dice, count: number): string =>
  Array.from({ length: count }, () => dice.whole(0, 9)).join('');

function nameOf(dice: Dice): string {
  const given = dice.one(GIVEN);
  const family = /\p{Script=Cyrillic}/u.test(given)
    ? dice.one(CYRILLIC_FAMILY)
    : /\p{Script=Greek}/u.test(given)
      ? dice.one(GREEK_FAMILY)
      : dice.one(FAMILY);
  return dice.one([
    `${given} ${family}`,
    `${family}, ${given}`,
    `${family.toUpperCase()} ${given[0]}.`,
    `${family.toUpperCase()}^${given.toUpperCase()}`,
    `Patient: ${given} ${family}`,
  ]);
}

function dateOf(dice: Dice): string {
  const [year, month, day] = [dice.whole(1948, 2026), dice.whole(1, 12), dice.whole(1, 28)];
  const time = `${two(dice.whole(7, 19))}:${two(dice.whole(0, 59))}`;
  return dice.one([
    `${year}-${two(month)}-${two(day)}`,
    `${two(day)}.${two(month)}.${year}`,
    `${two(month)}/${two(day)}/${year}`,
    `${day} ${MONTHS[month - 1]} ${year}`,
    `${year}/${two(month)}/${two(day)} ${time}`,
    `DOB ${two(day)}/${two(month)}/${year}`,
  ]);
}

/** The date a camera burns into its stills. */
export function cameraDate(dice: Dice): string {
  const [year, month, day] = [dice.whole(2009, 2026), two(dice.whole(1, 12)), two(dice.whole(1, 28))];
  const time = `${two(dice.whole(7, 19))}:${two(dice.whole(0, 59))}`;
  return dice.one([
    `${year}/${month}/${day} ${time}`,
    `${month} ${day} ${year}`,
    `'${two(year % 100)} ${month} ${day}`,
    `${day}.${month}.${year}`,
    `${year}-${month}-${day} ${time}:${two(dice.whole(0, 59))}`,
  ]);
}

export function stringOf(kind: StringKind, dice: Dice): string {
  switch (kind) {
    case 'name':
      return nameOf(dice);
    case 'date':
      return dateOf(dice);
    case 'chart':
      return dice.one([
        `ID ${digits(dice, 6)}`,
        `A-${digits(dice, 5)}`,
        `Chart ${digits(dice, 4)}`,
        `PID${digits(dice, 7)}`,
        `#${digits(dice, 5)}`,
      ]);
    case 'clinic':
      return dice.one(CLINICS);
    case 'number':
      return dice.one([
        digits(dice, dice.whole(4, 9)),
        `${digits(dice, 2)}kV ${dice.whole(2, 9)}mA`,
        `SN ${digits(dice, 8)}`,
      ]);
    case 'side':
      return dice.one(['R', 'L', 'R', 'L', 'D', 'S']);
    case 'tooth':
      return dice.one([`${dice.whole(1, 4)}${dice.whole(1, 8)}`, `#${dice.whole(1, 32)}`]);
    case 'scale':
      return dice.one(['10 mm', '5 mm', '1 cm', '0 5 10 mm', `${dice.whole(1, 24)}.${dice.whole(0, 9)} mm`]);
  }
}
