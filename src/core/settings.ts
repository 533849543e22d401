import { z } from 'zod';

/** practice.yaml. Every key has a default; an unknown key refuses the file, since a typo would go unseen. */
export const settingsSchema = z.strictObject({
  notation: z
    .enum(['fdi', 'universal', 'palmer'])
    .nullable()
    .default(null)
    .describe(
      'Lets the sidecar say a bare tooth number, e.g. tooth: 46. Without it the system must be named.',
    ),
  paper: z.enum(['A4', 'Letter']).default('A4').describe('Paper size of sheets.'),
  language: z.enum(['en']).default('en').describe('Language of sheets.'),
  quiet: z.number().min(0).max(86_400).default(15).describe('Seconds without change before watch acts.'),
  letterhead: z.array(z.string().max(120)).max(6).default([]).describe('Lines printed on sheets.'),
  measuring: z.enum(['off', 'figures', 'figures-and-rule']).default('figures'),
  fillingEnd: z.enum(['0-2mm', '0.5-2mm']).default('0-2mm').describe('Named rule for the end of a filling.'),
  private: z.string().min(1).nullable().default(null).describe('Another place for the private folder.'),
  keyFile: z
    .string()
    .min(1)
    .nullable()
    .default(null)
    .describe('Where the key file lies that opens an encrypted private folder.'),
  sources: z
    .array(
      z.strictObject({
        source: z.string().min(1).describe('Maker and model as the camera writes them, or a sub-folder.'),
        corrected: z.boolean().default(false).describe('This camera flips mirror views by itself.'),
        offset: z.number().default(0).describe('Seconds to add to the capture times of this camera.'),
      }),
    )
    .default([]),
  dicomCopies: z.boolean().default(false),
  coverAlways: z
    .array(
      z.strictObject({
        source: z.string().min(1),
        box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
      }),
    )
    .default([]),
  minimumText: z.number().min(9).max(14).default(9).describe('Points, on anything that leaves.'),
  referralBasis: z.enum(['consent', 'treatment']).default('consent'),
});

export type Settings = z.infer<typeof settingsSchema>;
