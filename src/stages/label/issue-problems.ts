import type { z } from 'zod';
import { nearest } from '../../core/edit-distance.js';
import { wording } from '../../trade/visit/index.js';
import { named, type Problem, shorten } from './problem.js';
import { type Path, type Place, type Places, pathKey } from './read-node.js';
import { type AnySchema, defOf, schemaAt } from './schema-at.js';
import { dateProblem, numberSentence } from './value-sentences.js';

type Issue = z.core.$ZodIssue;

/** What the schema objects to, as problems at their places in the text. */
export function problemsOf(
  issues: readonly Issue[],
  schema: AnySchema,
  root: Path,
  places: Places,
): Problem[] {
  return issues.flatMap((issue) => {
    const path = [...root, ...issue.path];
    if (issue.code === 'unrecognized_keys') return unknownKeys(issue.keys, schema, issue.path, path, places);
    return [problemOf(issue, schemaAt(schema, issue.path), path, places)];
  });
}

function problemOf(issue: Issue, target: AnySchema | null, path: Path, places: Places): Problem {
  const place = placeOf(target, path, places);
  if (place === undefined || place.raw === '') return missing(target, path, place, places, issue);
  const about = target === null ? undefined : wording.get(target);
  const quotable = place.raw !== null && isShown(target, path);
  const got = quotable ? shorten(place.raw ?? '') : null;
  const base = { offset: place.offset, path, got };
  const words = target === null ? null : wordsOf(target);
  if (words !== null) {
    const guess = place.raw === null ? null : nearest(place.raw.trim(), words);
    return {
      ...base,
      allowed: words,
      say: (quote) => wordSentence(quote, about?.noun ?? 'known here', guess, words),
    };
  }
  if (issue.code === 'custom') {
    const allowed = (issue.params as { allowed?: string[] } | undefined)?.allowed;
    return { ...base, ...(allowed ? { allowed } : {}), say: () => issue.message };
  }
  if (issue.code === 'invalid_format' && issue.format === 'date') {
    return { ...base, say: (quote) => dateProblem(quote) };
  }
  return {
    ...base,
    ...(target !== null && defOf(target).type === 'boolean' ? { allowed: ['true', 'false'] } : {}),
    say: (quote) => typeSentence(issue, target, quote),
  };
}

/** A tooth under one system is placed at its number, not at the brackets around it. */
function placeOf(target: AnySchema | null, path: Path, places: Places): Place | undefined {
  const place = places.get(pathKey(path));
  if (target === null || wording.get(target)?.raw !== true || place?.raw !== null) return place;
  const numbers = ['fdi', 'universal', 'palmer'].flatMap((key) => places.get(pathKey([...path, key])) ?? []);
  return numbers.length === 1 ? numbers[0] : place;
}

/** Only words from a list, numbers, yes or no, days and teeth are ever quoted: no text that may say anything. */
function isShown(target: AnySchema | null, path: Path): boolean {
  if (target === null || path[0] === 'patient') return false;
  const about = wording.get(target);
  if (about?.raw) return true;
  const { type } = defOf(target);
  const day = path[0] === 'visit' && path[1] === 'date';
  return type === 'enum' || type === 'number' || type === 'boolean' || day;
}

const wordsOf = (target: AnySchema): string[] | null => {
  const def = defOf(target);
  return def.type === 'enum' ? Object.values(def.entries) : null;
};

function wordSentence(quote: string | null, noun: string, guess: string | null, words: string[]): string {
  const hint = guess === null || quote === null ? '' : ` Did you mean "${guess}"?`;
  return `${named(quote)} is not ${noun}.${hint} Allowed: ${words.join(', ')}.`;
}

function typeSentence(issue: Issue, target: AnySchema | null, quote: string | null): string {
  const def = target === null ? null : defOf(target);
  switch (def?.type) {
    case 'number':
      return numberSentence(issue, quote, wording.get(target!)?.hint);
    case 'boolean':
      return `${named(quote)} is neither true nor false. Write true or false.`;
    case 'string':
      return textSentence(issue);
    case 'array':
      return listSentence(issue);
    case 'tuple':
      return `Write ${def.items.length} numbers in brackets, for example [${def.items.length === 2 ? '120, 80' : '120, 80, 60, 20'}].`;
    case 'object':
      return `This must be a group of keys, not a single value. Known here: ${Object.keys(def.shape).join(', ')}.`;
    case 'record':
      return 'This must be a group of named points, for example {a: [120, 80]}. Name them with letters and digits.';
    default:
      return 'This does not fit here. Compare with the example.';
  }
}

function textSentence(issue: Issue): string {
  if (issue.code === 'too_big') return `This text is longer than ${issue.maximum} characters. Shorten it.`;
  if (issue.code === 'too_small') return 'This text is empty. Write something, or take the key out.';
  if (issue.code === 'invalid_format')
    return 'This is not written as expected. Use letters, digits and hyphens.';
  return 'This must be one text, not a list or a group. Put a text with a colon in quotes.';
}

function listSentence(issue: Issue): string {
  if (issue.code === 'too_big') return `This list has more than ${issue.maximum} entries. Shorten it.`;
  if (issue.code === 'too_small')
    return `This list needs at least ${issue.minimum} entries. Add what is missing.`;
  return 'This must be a list. Start each entry with a dash, or write [one, two].';
}

/** A key that is not there is placed at what should hold it; one with nothing behind it, at itself. */
function missing(
  target: AnySchema | null,
  path: Path,
  place: Place | undefined,
  places: Places,
  issue: Issue,
): Problem {
  let holder = place;
  for (let up = path.slice(0, -1); holder === undefined; up = up.slice(0, -1)) {
    holder = places.get(pathKey(up)) ?? (up.length === 0 ? { offset: 0, raw: null } : undefined);
  }
  const what = place === undefined ? 'is missing' : 'has nothing behind it';
  const words = target === null ? null : wordsOf(target);
  const add = words === null ? 'Add it.' : `Add it. Allowed: ${words.join(', ')}.`;
  const last = path.at(-1);
  const name = typeof last === 'number' ? `Entry ${last + 1}` : `The key ${String(last)}`;
  return {
    offset: holder.offset,
    path,
    got: null,
    ...(words === null ? {} : { allowed: words }),
    say: () =>
      issue.code === 'custom' && wording.get(target ?? NOTHING)?.raw !== true
        ? issue.message
        : `${name} ${what}. ${add}`,
  };
}

const NOTHING = {} as AnySchema;

/** `local` leads from the schema to the group, `path` from the document. */
function unknownKeys(
  keys: readonly string[],
  schema: AnySchema,
  local: Path,
  path: Path,
  places: Places,
): Problem[] {
  const group = schemaAt(schema, local);
  const def = group === null ? null : defOf(group);
  const allowed = def?.type === 'object' ? Object.keys(def.shape) : [];
  return keys.map((key) => unknownKey(key, allowed, path, places));
}

/** Under `patient` a stray key may be part of a name, so neither the key nor its path is shown. */
export function unknownKey(key: string, allowed: string[], path: Path, places: Places): Problem {
  const hidden = path[0] === 'patient';
  const place = places.get(pathKey([...path, key])) ?? { offset: 0, raw: null };
  const plainKey = /^[\p{L}\p{N}_ -]{1,40}$/u.test(key);
  return {
    offset: place.offset,
    path: hidden || !plainKey ? path : [...path, key],
    got: hidden || !plainKey ? null : key,
    allowed,
    say: (quote) => keySentence(key, quote, allowed),
  };
}

function keySentence(key: string, quote: string | null, allowed: string[]): string {
  if (/^\d+$/.test(key)) {
    return `A comma before "${key}" parts two values here. Write decimals with a point, for example 20.5.`;
  }
  const guess = nearest(key, allowed);
  const hint = guess === null ? '' : ` Did you mean "${guess}"?`;
  return `${named(quote)} is not a key here.${hint} Allowed: ${allowed.join(', ')}.`;
}
