import { z } from 'zod';
import type { ToothRef } from '../tooth-ref.js';
import { canalSchema } from './canal-schema.js';
import { imageSchema } from './image-schema.js';
import { consentSchema, patientSchema, treatmentSchema, visitSchema } from './patient-schema.js';
import { alignSchema, answersSchema, diagnosisSchema, handOffSchema } from './record-schema.js';
import { writtenTooth } from './tooth-schema.js';

const shape = <T extends z.ZodType<ToothRef>>(tooth: T) => ({
  patient: patientSchema.optional(),
  visit: visitSchema.optional(),
  treatment: treatmentSchema.optional(),
  tooth: tooth,
  consent: consentSchema.optional(),
  diagnosis: diagnosisSchema.optional(),
  canals: z.array(canalSchema).max(20).describe('The canals, one entry each.').optional(),
  images: z.array(imageSchema(tooth)).max(1000).describe('The pictures, one entry each.'),
  align: alignSchema.optional(),
  answers: answersSchema.optional(),
  handoff: handOffSchema.optional(),
});

/**
 * One document of visit.yaml as it is written.
 * @param tooth how a tooth is read: `toothUnder(notation)`, or `writtenTooth` for the published schema
 */
export const sidecarSchema = <T extends z.ZodType<ToothRef>>(tooth: T) => z.strictObject(shape(tooth));

export type SidecarSchema = ReturnType<typeof sidecarSchema<z.ZodType<ToothRef>>>;
export type Written = z.infer<SidecarSchema>;
export type WrittenImage = Written['images'][number];
export type WrittenCanal = NonNullable<Written['canals']>[number];

/** The shape of visit.yaml as JSON Schema, draft 2020-12, for editors. One document; JSON is YAML too. */
export const publishedSchema = (): object =>
  z.toJSONSchema(
    sidecarSchema(writtenTooth).describe('visit.yaml: one document for each tooth treated in a visit.'),
    { target: 'draft-2020-12', io: 'input' },
  );
