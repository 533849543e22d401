import { viewOf } from '../bytes.js';
import type { Allowed } from './leftovers/allowed-elements.js';
import { ALLOWED, ALLOWED_META } from './leftovers/allowed-elements.js';
import { type WalkedElement, walkElements, walkFileMeta } from './walk-elements.js';

/**
 * A copy without its samples, numbers and names of objects: where a name or number of a person could stand. The rest is
 * written anew from numbers, and by chance holds any four digits: a chart number 4711 stands somewhere in the 117 digits
 * of three UIDs once in a hundred files. Sequences are left out as well: their codes and meanings come from our own
 * tables, and a sound source says "Jaw region" by the same code and in the same words.
 */
export function whatIsSearched(copy: Uint8Array): Uint8Array {
  const { elements: meta, end } = walkFileMeta(copy, 132);
  const elements = walkElements(copy, { explicit: true, bigEndian: false }, end);
  const samples = elements.at(-1)!;
  const searched = Buffer.from(viewOf(copy).subarray(0, samples.at));
  for (const [list, rules] of [[meta, ALLOWED_META] as const, [elements.slice(0, -1), ALLOWED] as const])
    for (const element of list)
      if (element.vr === 'SQ' || isNumeric(element, rules.get(element.tag))) blank(searched, element);
  return searched;
}

const NUMERIC: readonly Allowed['kind'][] = ['uid', 'number', 'bytes', 'table'];

const isNumeric = ({ vr }: WalkedElement, rules: readonly Allowed[] = []): boolean =>
  rules.some((rule) => rule.vr === vr && NUMERIC.includes(rule.kind));

const blank = (bytes: Buffer, { at, length }: WalkedElement): void => void bytes.fill(0, at, at + length);
