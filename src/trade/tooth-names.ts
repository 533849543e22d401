import type { ToothRef } from './tooth-ref.js';

/**
 * The 52 ordinary teeth by rule, never by a copied table. The number everywhere inside is ISO 3950 ("FDI"): first
 * digit the quadrant as the patient has it (1 upper right, 2 upper left, 3 lower left, 4 lower right; primary 5-8
 * in the same order), second digit the place counted from the midline (permanent 1-8, primary 1-5).
 */
export const ALL_TEETH: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8].flatMap((quadrant) =>
  Array.from({ length: quadrant <= 4 ? 8 : 5 }, (_, place) => quadrant * 10 + place + 1),
);

export const isPrimary = (fdi: number): boolean => fdi > 50;

/** Place from the midline: 1 is the central incisor. */
export const placeOf = (fdi: number): number => fdi % 10;

/** 1 upper right, 2 upper left, 3 lower left, 4 lower right, for primary teeth too. */
export function quadrantOf(fdi: number): 1 | 2 | 3 | 4 {
  return (((Math.floor(fdi / 10) - 1) % 4) + 1) as 1 | 2 | 3 | 4;
}

export const isUpper = (fdi: number): boolean => quadrantOf(fdi) <= 2;

/** The patient's right. */
export const isRightSide = (fdi: number): boolean => quadrantOf(fdi) === 1 || quadrantOf(fdi) === 4;

export type ToothType =
  | 'central incisor'
  | 'lateral incisor'
  | 'canine'
  | 'first premolar'
  | 'second premolar'
  | 'first molar'
  | 'second molar'
  | 'third molar';

const PERMANENT: readonly ToothType[] = [
  'central incisor',
  'lateral incisor',
  'canine',
  'first premolar',
  'second premolar',
  'first molar',
  'second molar',
  'third molar',
];

/** Primary teeth have no premolars: 4 and 5 are the first and the second molar. */
export function toothType(fdi: number): ToothType {
  const place = placeOf(fdi);
  return PERMANENT[(isPrimary(fdi) && place > 3 ? place + 2 : place) - 1] as ToothType;
}

/** "lower right first molar", "lower right first primary molar", "upper left primary canine". */
export function toothWords(fdi: number): string {
  const side = `${isUpper(fdi) ? 'upper' : 'lower'} ${isRightSide(fdi) ? 'right' : 'left'}`;
  const type = toothType(fdi);
  if (!isPrimary(fdi)) return `${side} ${type}`;
  return type.endsWith(' molar')
    ? `${side} ${type.replace(' molar', ' primary molar')}`
    : `${side} primary ${type}`;
}

/**
 * Universal (ADA): permanent "1"-"32" from the upper right third molar along the upper arch, then from the lower
 * left third molar along the lower one; primary "A"-"T" the same way.
 */
export function universalOf(fdi: number): string {
  const place = placeOf(fdi);
  const quadrant = quadrantOf(fdi);
  if (!isPrimary(fdi)) return String([9 - place, 8 + place, 25 - place, 24 + place][quadrant - 1]);
  const letter = [5 - place, 4 + place, 15 - place, 14 + place][quadrant - 1] as number;
  return String.fromCharCode(65 + letter);
}

const CORNERS = ['UR', 'UL', 'LL', 'LR'] as const;

/** Palmer (Zsigmondy) as text: "LR6"; primary "LRE". */
export function palmerOf(fdi: number): string {
  return `${CORNERS[quadrantOf(fdi) - 1]}${palmerPlace(fdi)}`;
}

/** Palmer with its corner sign: upper right 6┘, upper left └6, lower left ┌6, lower right 6┐. */
export function palmerSign(fdi: number): string {
  const place = palmerPlace(fdi);
  return [`${place}┘`, `└${place}`, `┌${place}`, `${place}┐`][quadrantOf(fdi) - 1] as string;
}

const palmerPlace = (fdi: number): string =>
  isPrimary(fdi) ? String.fromCharCode(64 + placeOf(fdi)) : String(placeOf(fdi));

/**
 * Where mesial lies on a periapical film mounted as if facing the patient, and in the orifice diagram, which is
 * posed to agree with it (oral radiology teaching texts: labial mounting).
 */
export const mesialSideOnFilm = (fdi: number): 'left' | 'right' => (isRightSide(fdi) ? 'right' : 'left');

/** The name of the inner side: P in the upper jaw, L in the lower. */
export const innerSide = (fdi: number): 'P' | 'L' => (isUpper(fdi) ? 'P' : 'L');

/** As sheets print it, since a bare 26 is an incisor to one reader and a molar to another. */
export function fullToothName(tooth: ToothRef): string {
  return 'fdi' in tooth
    ? `${toothWords(tooth.fdi)}, FDI ${tooth.fdi}, Universal ${universalOf(tooth.fdi)}`
    : `supernumerary tooth, ${tooth.supernumerary}`;
}

export function isSameTooth(a: ToothRef, b: ToothRef): boolean {
  if ('fdi' in a) return 'fdi' in b && a.fdi === b.fdi;
  return !('fdi' in b) && a.supernumerary.trim().toLowerCase() === b.supernumerary.trim().toLowerCase();
}
