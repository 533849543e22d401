import { z } from 'zod';
import { parseTooth } from '../teeth.js';
import type { ToothRef } from '../tooth-ref.js';
import { wording } from './wording.js';

type Notation = 'fdi' | 'universal' | 'palmer';

/** Reads a tooth in any way a sidecar may write it; a bare number only under the practice's notation. */
export const toothUnder = (notation: Notation | null): z.ZodType<ToothRef> =>
  z
    .unknown()
    .transform((value, context): ToothRef => {
      const result = parseTooth(value, notation);
      if (result.ok) return result.tooth;
      const params = result.allowed === undefined ? {} : { allowed: result.allowed };
      context.addIssue({ code: 'custom', message: result.sentence, params });
      return z.NEVER;
    })
    .register(wording, { raw: true });

const numbered = z
  .strictObject({
    fdi: z.int().min(11).max(85).describe('ISO 3950, e.g. 46.').optional(),
    universal: z
      .union([z.int().min(1).max(32), z.string().regex(/^[A-Ta-t]$/)])
      .describe('1-32, or A-T for a primary tooth.')
      .optional(),
    palmer: z.string().describe('e.g. LR6, or LRE for a primary tooth.').optional(),
  })
  .describe('Several systems may be given if they mean the same tooth.');

const extra = z.strictObject({
  supernumerary: z.string().min(1).max(80).describe('Where it stands: near 21.'),
});

/** The same for the published JSON Schema, which cannot hold code. */
export const writtenTooth = z
  .union([numbered, extra, z.int().describe('Only under a notation in practice.yaml.'), z.string()])
  .describe('A tooth with its system, e.g. {fdi: 46}.') as unknown as z.ZodType<ToothRef>;
