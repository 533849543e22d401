import { type Document, isMap, LineCounter, parseDocument } from 'yaml';
import type { z } from 'zod';
import { BLOCK_NAMES, type Template, templateSchema } from './schema.js';

export interface TemplateError {
  line: number;
  column: number;
  /** "blocks[3].pick", or "" for the file. */
  field: string;
  sentence: string;
}

export type TemplateResult = { ok: true; template: Template } | { ok: false; errors: TemplateError[] };

/** Reads a sheet's template. All mistakes at once, each with its line; an unknown key or block is a mistake. */
export function readTemplate(text: string): TemplateResult {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, version: '1.2' });
  if (document.errors.length > 0) {
    return {
      ok: false,
      errors: document.errors.map((error) => ({
        ...position(lines, error.pos[0]),
        field: '',
        sentence: `This is not valid YAML: ${error.message}.`,
      })),
    };
  }
  const parsed = templateSchema.safeParse(plain(document));
  if (parsed.success) return { ok: true, template: parsed.data };
  const errors = parsed.error.issues.flatMap((issue) => errorsOf(issue, document, lines));
  return { ok: false, errors: errors.toSorted((a, b) => a.line - b.line || a.column - b.column) };
}

/** Aliases are not needed in a template; a count keeps a bomb of them from growing. */
function plain(document: Document): unknown {
  try {
    return document.toJS({ maxAliasCount: 50 });
  } catch {
    return null;
  }
}

function errorsOf(issue: z.core.$ZodIssue, document: Document, lines: LineCounter): TemplateError[] {
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      ...place([...issue.path, key], document, lines, true),
      field: fieldOf([...issue.path, key]),
      sentence: `"${key}" is not a key that belongs here.`,
    }));
  }
  const sentence =
    issue.code === 'invalid_union' && issue.path.at(-1) === 'block'
      ? `This is not a block. Allowed: ${BLOCK_NAMES.join(', ')}.`
      : `${issue.message}.`;
  return [{ ...place(issue.path, document, lines, false), field: fieldOf(issue.path), sentence }];
}

const fieldOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, step) =>
      typeof step === 'number' ? `${text}[${step}]` : text === '' ? String(step) : `${text}.${String(step)}`,
    '',
  );

/** Where the value of a path stands, or its key; for something absent, the nearest thing around it. */
function place(path: readonly PropertyKey[], document: Document, lines: LineCounter, key: boolean) {
  for (let length = path.length; length >= 0; length -= 1) {
    const steps = path.slice(0, length);
    if (key && length === path.length) {
      const parent = document.getIn(steps.slice(0, -1), true);
      const pair = isMap(parent) && parent.items.find((item) => String(item.key) === String(steps.at(-1)));
      const start = pair && (pair.key as { range?: [number, number, number] }).range?.[0];
      if (start !== undefined && start !== false) return position(lines, start);
    }
    const node = length === 0 ? document.contents : document.getIn(steps, true);
    const range = (node as { range?: [number, number, number] } | null | undefined)?.range;
    if (range) return position(lines, range[0]);
  }
  return { line: 1, column: 1 };
}

function position(lines: LineCounter, offset: number): { line: number; column: number } {
  const { line, col } = lines.linePos(offset);
  return { line: Math.max(line, 1), column: Math.max(col, 1) };
}
