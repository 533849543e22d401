import { type Document, isScalar, LineCounter, parseDocument, visit } from 'yaml';
import { type Settings, settingsSchema } from '../core/settings.js';
import { nearestWord } from './nearest-word.js';
import { SETTINGS_FILE } from './practice-paths.js';

/** One mistake in practice.yaml. Lines and columns count from 1. */
export interface SettingsError {
  file: string;
  line: number;
  column: number;
  field: string;
  sentence: string;
}

export type ReadSettings = { ok: true; settings: Settings } | { ok: false; errors: SettingsError[] };

type Path = readonly (string | number)[];
type Problem = { path: Path; onKey?: boolean; sentence: string };

/** practice.yaml to settings. All mistakes at once, each with its place; an unknown key refuses the file. */
export function readSettings(text: string): ReadSettings {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const at = (offset: number, field: string, sentence: string): SettingsError => {
    const { line, col } = lines.linePos(offset);
    return { file: SETTINGS_FILE, line: Math.max(1, line), column: Math.max(1, col), field, sentence };
  };
  const broken = [...document.errors, ...document.warnings];
  if (broken.length > 0) return { ok: false, errors: broken.map((e) => at(e.pos[0], '', yamlSentence(e))) };
  const odd = firstOddity(document);
  if (odd !== null) return { ok: false, errors: [at(odd.offset, '', odd.sentence)] };
  const parsed = settingsSchema.safeParse(document.toJS() ?? {});
  if (parsed.success) return { ok: true, settings: parsed.data };
  const problems = parsed.error.issues.flatMap((issue) => problemsOf(issue as Issue));
  return {
    ok: false,
    errors: problems.map((p) =>
      at(offsetOf(document, p), fieldName(p.path), `${fieldName(p.path)}${p.sentence}`),
    ),
  };
}

function yamlSentence(error: { code: string; message: string }): string {
  switch (error.code) {
    case 'DUPLICATE_KEY':
      return 'This key stands here twice. Keep one.';
    case 'MULTIPLE_DOCS':
      return 'Only one document is allowed here. Take out the line "---".';
    case 'TAB_AS_INDENT':
      return 'A tab stands at the start of the line. Use spaces.';
    default:
      return `This is not YAML that can be read (${error.message}).`;
  }
}

/** YAML that is sound but has no place in settings. */
function firstOddity(document: Document): { offset: number; sentence: string } | null {
  let found: { offset: number; sentence: string } | null = null;
  visit(document, {
    Alias: (_, node) => {
      found = {
        offset: rangeOf(node) ?? 0,
        sentence: 'Anchors and aliases (& and *) are not used here. Write it out.',
      };
      return visit.BREAK;
    },
    Pair: (_, { key }) => {
      if (isScalar(key) && typeof key.value === 'string') return undefined;
      found = { offset: rangeOf(key) ?? 0, sentence: 'This is not the name of a setting.' };
      return visit.BREAK;
    },
  });
  return found;
}

type Issue = {
  code: string;
  path: PropertyKey[];
  message: string;
  keys?: string[];
  values?: unknown[];
  expected?: string;
  minimum?: number;
  maximum?: number;
  input?: unknown;
};

function problemsOf(issue: Issue): Problem[] {
  const path = issue.path.filter((step) => typeof step !== 'symbol');
  switch (issue.code) {
    case 'unrecognized_keys':
      return (issue.keys ?? []).map((key) => ({
        path: [...path, key],
        onKey: true,
        sentence: ` is not a setting.${suggestion(key, keysAt(path))}`,
      }));
    case 'invalid_value': {
      const allowed = (issue.values ?? []).map(String);
      return [{ path, sentence: ` must be one of: ${allowed.join(', ')}.` }];
    }
    case 'invalid_type':
      return [{ path, sentence: ` must be ${KIND[issue.expected ?? ''] ?? `a ${issue.expected}`}.` }];
    case 'too_small':
      return [{ path, sentence: ` is too small or too short; the least is ${issue.minimum}.` }];
    case 'too_big':
      return [{ path, sentence: ` is too large or too long; the most is ${issue.maximum}.` }];
    default:
      return [{ path, sentence: `: ${issue.message}.` }];
  }
}

const KIND: Record<string, string> = {
  number: 'a number',
  string: 'text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list of four numbers',
  object: 'a group of "key: value" lines',
};

function suggestion(key: string, allowed: readonly string[]): string {
  const near = nearestWord(key, allowed);
  return near === null ? ` Allowed: ${allowed.join(', ')}.` : ` Did you mean "${near}"?`;
}

function keysAt(path: Path): string[] {
  const { shape } = settingsSchema;
  if (path[0] === 'sources') return Object.keys(shape.sources.unwrap().element.shape);
  if (path[0] === 'coverAlways') return Object.keys(shape.coverAlways.unwrap().element.shape);
  return Object.keys(shape);
}

const fieldName = (path: Path): string =>
  path.length === 0
    ? SETTINGS_FILE
    : path.map((step, i) => (typeof step === 'number' ? `[${step}]` : i === 0 ? step : `.${step}`)).join('');

/** Where a problem stands in the text: its key, its value, or the nearest thing around it. */
function offsetOf(document: Document, problem: Problem): number {
  const whole = problem.path;
  if (problem.onKey) {
    const holder: unknown = whole.length === 1 ? document.contents : document.getIn(whole.slice(0, -1), true);
    const key = pairKey(holder, String(whole.at(-1)));
    if (key !== null) return key;
  }
  for (let length = whole.length; length > 0; length -= 1) {
    const node: unknown = document.getIn(whole.slice(0, length), true);
    const range = rangeOf(node);
    if (range !== null) return range;
  }
  return rangeOf(document.contents) ?? 0;
}

function rangeOf(node: unknown): number | null {
  if (typeof node !== 'object' || node === null || !('range' in node)) return null;
  return Array.isArray(node.range) ? Number(node.range[0]) : null;
}

function pairKey(holder: unknown, name: string): number | null {
  if (typeof holder !== 'object' || holder === null || !('items' in holder)) return null;
  for (const item of holder.items as { key?: unknown }[]) {
    const { key } = item;
    if (typeof key === 'object' && key !== null && 'value' in key && String(key.value) === name)
      return rangeOf(key);
  }
  return null;
}
