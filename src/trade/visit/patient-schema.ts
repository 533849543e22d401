import { z } from 'zod';
import { oneOf, privateText, wording } from './wording.js';
import { TREATMENT_KINDS, VISIT_STATES } from './words.js';

const inReach = (date: string): boolean => date >= '1850' && date < '2200';

/** A calendar day, ISO 8601 "2026-02-11"; days that no calendar has are refused. */
const day = (description: string) =>
  z.iso
    .date({ abort: true })
    .refine(
      inReach,
      'This year cannot be right. Write the day as year-month-day, with four digits for the year.',
    )
    .describe(description);

/** Private. Finds the case again, and is what finished output is searched for. */
export const patientSchema = z
  .strictObject({
    chart: privateText(64, 'Chart number, kept exactly as written.').optional(),
    names: z
      .array(privateText(120, 'A name of the patient, whole or in parts.'))
      .max(20)
      .describe('Every name the patient goes by; each part is searched for by itself.')
      .optional(),
    born: day('Day of birth, year-month-day.').register(wording, { unquoted: true }).optional(),
  })
  .describe('Private: finds the case again, and is what every sheet is searched for.');

export const visitSchema = z
  .strictObject({
    date: day('Day of the visit, year-month-day.').optional(),
    state: oneOf(VISIT_STATES, 'a visit state', 'How the visit ended.').optional(),
  })
  .describe('When the visit was and how it ended.');

export const treatmentSchema = z
  .strictObject({
    kind: oneOf(TREATMENT_KINDS, 'a treatment kind', 'What was done.').optional(),
    course: z.int().min(1).max(20).describe('Which treatment of this tooth: 1 is the first.').optional(),
  })
  .describe('What was done, and which treatment of this tooth it belongs to.');

const agreed = (purpose: string) =>
  z.boolean().describe(`The patient agreed to use for ${purpose}.`).optional();

export const consentSchema = z
  .strictObject({
    referral: agreed('the referring dentist'),
    teaching: agreed('teaching'),
    publication: agreed('publication'),
  })
  .describe('What the patient agreed to; absent means not recorded.');
