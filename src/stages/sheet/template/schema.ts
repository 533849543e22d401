import { z } from 'zod';
import { STAGES, type StageWord } from '../../../trade/stages.js';

const stageWords = [...STAGES.before, ...STAGES.during, ...STAGES.after, 'other'] as [
  StageWord,
  ...StageWord[],
];

const heading = z.string().min(1).max(80);

const pictures = {
  heading,
  pick: z.enum(['story', 'rest', 'all']).default('all').describe('Which pictures; see referrer.yaml.'),
  prefer: z.array(z.enum(stageWords)).default([]).describe('Stages to show first when only some are shown.'),
};

/** Blocks that stand alone. */
const single = [
  z.strictObject({ block: z.literal('letterhead'), label: z.string().max(80).default('Case sheet') }),
  z.strictObject({ block: z.literal('title') }),
  z.strictObject({ block: z.literal('answer') }),
  z.strictObject({ block: z.literal('patient-line'), label: z.string().min(1).max(40).default('Patient') }),
  z.strictObject({ block: z.literal('timeline'), heading }),
  z.strictObject({ block: z.literal('radiographs'), ...pictures }),
  z.strictObject({ block: z.literal('stills'), ...pictures }),
  z.strictObject({ block: z.literal('pictures'), ...pictures }),
  z.strictObject({ block: z.literal('canal-table'), heading }),
  z.strictObject({ block: z.literal('orifice-diagram') }),
  z.strictObject({
    block: z.literal('hand-off'),
    heading: heading.optional(),
    pick: z.enum(['rest', 'all']).default('all').describe('rest: only what the answer does not say.'),
  }),
  z.strictObject({ block: z.literal('about-these-images'), heading }),
  z.strictObject({
    block: z.literal('cautions'),
    heading,
    sentences: z.array(z.string().min(1).max(600)).min(1).max(12),
  }),
] as const;

export const singleBlockSchema = z.discriminatedUnion('block', single);

const columns = z.strictObject({
  block: z.literal('columns'),
  columns: z
    .array(
      z.strictObject({
        span: z.int().min(1).max(3),
        blocks: z.array(singleBlockSchema).min(1).max(6),
      }),
    )
    .min(2)
    .max(3)
    .describe('Blocks side by side. Pictures need the full width and stand outside.'),
});

/** templates/<name>.yaml: a sheet as data. The engine knows blocks, not sheets. */
export const templateSchema = z.strictObject({
  template: z.string().regex(/^[a-z][a-z0-9-]{0,39}$/, 'small letters, digits and hyphens'),
  audience: z
    .string()
    .regex(/^[a-z][a-z0-9-]{0,39}$/, 'small letters, digits and hyphens')
    .describe('One share code is drawn for each case and audience.'),
  blocks: z
    .array(z.discriminatedUnion('block', [...single, columns]))
    .min(1)
    .max(40),
});

export type Template = z.infer<typeof templateSchema>;
export type SingleBlock = z.infer<typeof singleBlockSchema>;
export type TemplateBlock = Template['blocks'][number];
export type BlockOf<Name extends SingleBlock['block']> = Extract<SingleBlock, { block: Name }>;

/** Every block a template may name, for messages. */
export const BLOCK_NAMES: readonly string[] = [
  ...single.map((schema) => schema.shape.block.value),
  columns.shape.block.value,
];
