import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { publishedSchema } from '../../../src/trade/visit/index.js';

interface Node {
  type?: string;
  description?: string;
  properties?: Record<string, Node>;
  items?: Node;
  required?: string[];
  enum?: string[];
  additionalProperties?: unknown;
}

const schema = publishedSchema() as Node & { $schema: string };

describe('the published JSON Schema', () => {
  it('is draft 2020-12, closed at the top, and needs tooth and images only', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(schema.additionalProperties).toBe(false);
    expect(schema.required).toEqual(['tooth', 'images']);
  });

  it('describes every key of every group', () => {
    const bare: string[] = [];
    const walk = (node: Node, path: string): void => {
      for (const [key, child] of Object.entries(node.properties ?? {})) {
        if (
          !child.description &&
          !child.items &&
          !('prefixItems' in child) &&
          !('allOf' in child) &&
          !child.properties
        )
          bare.push(`${path}.${key}`);
        walk(child, `${path}.${key}`);
      }
      if (node.items) walk(node.items, `${path}[]`);
    };
    walk(schema, '');
    expect(bare).toEqual([]);
  });

  it('names the stages, and refuses what the reader refuses', () => {
    const again = z.fromJSONSchema(schema as never);
    const image = { file: 'a.jpg', stage: 'pre-op', view: 'periapical', teeth: [{ fdi: 46 }] };
    expect(again.safeParse({ tooth: { fdi: 46 }, images: [image] }).success).toBe(true);
    expect(again.safeParse({ tooth: { fdi: 46 }, images: [{ ...image, stage: 'acess' }] }).success).toBe(
      false,
    );
    expect(again.safeParse({ tooth: { fdi: 46 }, images: [image], colour: 1 }).success).toBe(false);
    expect(again.safeParse({ images: [image] }).success).toBe(false);
  });
});
