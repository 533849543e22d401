import { type Alias, type Document, isScalar, parseAllDocuments, visit, type YAMLError } from 'yaml';
import { sentenceOfYaml } from './yaml-sentences.js';

/** A mistake in the YAML itself, at a place in the text. */
export interface YamlMistake {
  offset: number;
  sentence: string;
}

/** `documents` are given even beside mistakes if the tree can be trusted, so that all mistakes are told at once. */
export interface ParsedYaml {
  documents: Document.Parsed[];
  mistakes: YamlMistake[];
}

/** Brackets, and indicators in a row on one line, that a sidecar may open within each other; real ones reach six. */
const DEEPEST = 40;
const MOST_BRACKETS = 30_000;
/** Colons on one line outside brackets: "a: b: c:" is three levels to the parser. A caption of times has some twenty. */
const MOST_KEYS = 300;

const TREE_STAYS_SOUND = new Set(['TAG_RESOLVE_FAILED']);

/**
 * YAML 1.2 with nothing that hides what is written: no aliases, no tags, no doubled keys. Scalars stay text
 * (the failsafe schema, chapter 10.1), so that 00123, no and 2026-02-11 keep what was typed; what they mean is
 * decided by the key they stand under.
 */
export function parseYaml(text: string): ParsedYaml {
  const deep = nestedTooDeeply(text);
  if (deep !== null) return tooDeep(deep);
  try {
    return parseShallow(text);
  } catch (error) {
    // The parser calls itself for each level: "a: b: c:" on one line, or a step further in on each of many lines.
    if (error instanceof RangeError) return tooDeep(0);
    throw error;
  }
}

function tooDeep(offset: number): ParsedYaml {
  const sentence = 'Lists and groups are nested too deeply here. Compare with the example.';
  return { documents: [], mistakes: [{ offset, sentence }] };
}

function parseShallow(text: string): ParsedYaml {
  const parsed = parseAllDocuments(text, {
    schema: 'failsafe',
    strict: true,
    // the parser's own check takes time with the square of the keys; `hiddenIn` makes it
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'silent',
  });
  const documents = Array.isArray(parsed) ? (parsed as Document.Parsed[]) : [];
  const problems = documents.flatMap((one): YAMLError[] => [...one.errors, ...one.warnings]);
  const mistakes = [
    ...problems.map((one) => ({ offset: one.pos[0], sentence: sentenceOfYaml(one.code) })),
    ...documents.flatMap(hiddenIn),
  ];
  const sound = problems.every((one) => TREE_STAYS_SOUND.has(one.code));
  const written = documents.filter((one, at) => at === 0 || !isBlank(one));
  return { documents: sound ? written : [], mistakes };
}

/** A closing `---` or `...` opens a document with nothing in it. */
const isBlank = (document: Document.Parsed): boolean =>
  document.contents === null || ('source' in document.contents && document.contents.source === '');

/** Aliases and doubled keys: both let a file mean something else than it shows. */
function hiddenIn(document: Document.Parsed): YamlMistake[] {
  const found: YamlMistake[] = [];
  visit(document, {
    Alias: (_, node) => {
      found.push({ offset: (node as Alias.Parsed).range[0], sentence: ALIAS });
    },
    Map: (_, map) => {
      const seen = new Set<string>();
      for (const { key } of map.items) {
        // a decimal comma makes keys of digits, told where the keys are read
        if (!isScalar(key) || /^\d+$/.test(String(key.value))) continue;
        const name = String(key.value).trim();
        if (seen.has(name))
          found.push({ offset: key.range?.[0] ?? 0, sentence: sentenceOfYaml('DUPLICATE_KEY') });
        seen.add(name);
      }
    },
  });
  return found;
}

const ALIAS =
  'A star at the start of a value repeats another value in YAML, which is not read here. Write the value out, or put it in quotes.';

/** Where nesting goes past what any sidecar needs: such a text costs the parser far more time than it is worth. */
function nestedTooDeeply(text: string): number | null {
  const row = /(?:[-?:][ \t]+){40}/.exec(text);
  if (row !== null) return row.index;
  let depth = 0;
  let opened = 0;
  let keys = 0;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text.charCodeAt(at);
    if (sign === 0x5b || sign === 0x7b) {
      depth += 1;
      opened += 1;
      if (depth > DEEPEST || opened > MOST_BRACKETS) return at;
    } else if (sign === 0x5d || sign === 0x7d) {
      depth = Math.max(0, depth - 1);
    } else if (sign === 0x0a) {
      keys = 0;
    } else if (sign === 0x3a && depth === 0 && ++keys > MOST_KEYS) {
      return at;
    }
  }
  return null;
}
