import type { z } from 'zod';

/** The parts of a zod definition the reader walks by; the rest of zod's kinds are leaves to it. */
export type Def =
  | { type: 'object'; shape: Record<string, AnySchema> }
  | { type: 'record'; keyType: AnySchema; valueType: AnySchema }
  | { type: 'array'; element: AnySchema }
  | { type: 'tuple'; items: AnySchema[] }
  | { type: 'enum'; entries: Record<string, string> }
  | { type: 'string' | 'number' | 'boolean' | 'pipe' | 'unknown' };

export type AnySchema = z.ZodType;

export const defOf = (schema: AnySchema): Def => schema.def as unknown as Def;

/** The schema without "may be absent" around it. */
export function bare(schema: AnySchema): AnySchema {
  const def = schema.def as unknown as { type: string; innerType?: AnySchema };
  return def.type === 'optional' || def.type === 'nullable' ? bare(def.innerType!) : schema;
}

/** The schema of the value at a path, or null where the path leads out of the schema. */
export function schemaAt(schema: AnySchema, path: readonly PropertyKey[]): AnySchema | null {
  let here: AnySchema | null = bare(schema);
  for (const step of path) {
    const next: AnySchema | null = here === null ? null : stepInto(defOf(here), step);
    here = next === null ? null : bare(next);
  }
  return here;
}

function stepInto(def: Def, step: PropertyKey): AnySchema | null {
  switch (def.type) {
    case 'object':
      return Object.hasOwn(def.shape, step) ? (def.shape[String(step)] ?? null) : null;
    case 'record':
      return def.valueType;
    case 'array':
      return def.element;
    case 'tuple':
      return def.items[Math.min(Number(step), def.items.length - 1)] ?? null;
    default:
      return null;
  }
}
