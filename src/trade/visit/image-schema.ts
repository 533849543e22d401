import { z } from 'zod';
import type { ToothRef } from '../tooth-ref.js';
import { ANGLES, SLICE_PLANES, VIEWS } from '../views.js';
import { canalLabel } from './canal-schema.js';
import { amount, freeText, oneOf, privateText, wording, yesNo } from './wording.js';
import { BANDS, SIDES, STAGE_WORDS } from './words.js';

/** Pixels of the upright, direct-view display picture; pixel centres are integers, so the edge lies at -0.5. */
const pixel = () => z.number().min(-0.5).max(1_000_000).register(wording, { hint: 'in pixels' });
const extent = () =>
  z.number().positive().max(1_000_000).register(wording, { hint: 'in pixels, above zero' });
const pointSchema = z.tuple([pixel(), pixel()]).describe('[x, y] in pixels, origin top left.');
const boxSchema = z
  .tuple([pixel(), pixel(), extent(), extent()])
  .describe('[x, y, width, height] in pixels, origin top left.');

const boxedSchema = z.strictObject({
  box: boxSchema,
  by: privateText(20, 'Initials of who decided.').optional(),
  why: freeText(120, 'Why, e.g. name or side marker.').optional(),
});

const scaleSchema = z
  .strictObject({
    from: pointSchema,
    to: pointSchema,
    mm: amount(0.1, 200, 'in millimetres', 'True distance between the two points, in millimetres.'),
  })
  .refine(
    ({ from, to }) => from[0] !== to[0] || from[1] !== to[1],
    'Both ends of the scale are the same point. Give two different points.',
  )
  .describe('A known distance in the picture.');

const pathSchema = z.strictObject({
  canal: canalLabel('The canal it follows.'),
  points: z.array(pointSchema).min(2).max(500).describe('From the reference towards the apex.'),
  apex: pointSchema.optional(),
  fillingEnd: pointSchema.optional(),
});

const side = (what: string) => oneOf(SIDES, 'a side', `Where ${what} lies in the picture as shown.`);

const landmarkName = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9_-]{0,23}$/, 'Name a landmark with letters and digits, for example a or cej.');

const imageShape = <T extends z.ZodType<ToothRef>>(tooth: T) => ({
  file: privateText(1000, 'File name, or path inside the visit folder.'),
  stage: oneOf(STAGE_WORDS, 'a stage', 'What the picture shows.'),
  word: freeText(40, 'With stage other: a word for it.').optional(),
  band: oneOf(BANDS, 'a band', 'With stage other: the part of the treatment it belongs to.').optional(),
  view: oneOf(VIEWS, 'a view', 'How the picture was taken.'),
  plane: oneOf(SLICE_PLANES, 'a plane', 'Plane of a cone-beam slice.').optional(),
  angle: oneOf(ANGLES, 'an angle', 'Horizontal direction of the beam.').optional(),
  teeth: z.array(tooth).max(32).describe('Teeth shown; the tooth of the document when absent.').optional(),
  canals: z
    .array(canalLabel('A canal shown.'))
    .max(20)
    .describe('Canals shown.')
    .register(wording, { commas: true })
    .optional(),
  mirror: yesNo('Taken through a mirror and not yet flipped.').optional(),
  orientation: z
    .strictObject({ mesial: side('mesial').optional(), buccal: side('buccal').optional() })
    .describe('Where mesial and buccal lie in the picture as shown.')
    .optional(),
  magnification: amount(0.1, 100, 'the number alone', 'Setting of the microscope, 10 for x10.').optional(),
  caption: freeText(1000, 'One or two sentences for the sheet.').optional(),
  cover: z.array(boxedSchema).max(100).describe('Boxes to paint over.').optional(),
  keep: z.array(boxedSchema).max(100).describe('Boxes that hold nothing that identifies.').optional(),
  scale: scaleSchema.optional(),
  paths: z.array(pathSchema).max(20).describe('Canals as drawn by hand.').optional(),
  lesion: z.array(pointSchema).min(3).max(500).describe('Outline of a lesion.').optional(),
  landmarks: z.record(landmarkName, pointSchema).describe('Named points.').optional(),
  frame: z
    .int()
    .min(1)
    .max(100_000)
    .describe('Which frame of a file that holds several; counts from 1.')
    .optional(),
});

/** One picture. */
export const imageSchema = <T extends z.ZodType<ToothRef>>(tooth: T) =>
  z.strictObject(imageShape(tooth)).superRefine((image, context) => {
    const needed = image.stage === 'other';
    for (const key of ['word', 'band'] as const) {
      if (needed && image[key] === undefined) {
        context.addIssue({ code: 'custom', path: [key], message: `Stage other needs ${NEEDS[key]}.` });
      }
      if (!needed && image[key] !== undefined) {
        context.addIssue({
          code: 'custom',
          path: [key],
          message: `The key ${key} goes with stage other only. Take it out, or set the stage to other.`,
        });
      }
    }
  });

const NEEDS = {
  word: 'a word for what is shown, e.g. word: crack',
  band: 'a band: before, during or after',
} as const;
