import { z } from 'zod';
import { freeText, privateText, wording } from './wording.js';

export const diagnosisSchema = z
  .strictObject({
    pulp: freeText(160, 'Diagnosis of the pulp, in words.').optional(),
    apex: freeText(160, 'Diagnosis at the apex, in words.').optional(),
  })
  .describe('Diagnosis before treatment.');

export const alignSchema = z
  .array(
    z.strictObject({
      before: privateText(1000, 'File name of the earlier radiograph.'),
      after: privateText(1000, 'File name of the later radiograph.'),
      confirmed: privateText(20, 'Initials of who looked.').optional(),
    }),
  )
  .max(50)
  .describe('Pairs of radiographs to lay over each other.');

/** Settles a finding, or a hold such as other-patient. */
export const answersSchema = z
  .array(
    z.strictObject({
      code: z
        .string()
        .toLowerCase()
        .regex(/^[a-z][a-z0-9-]{0,59}$/, 'Write the code as the message shows it, for example shot-missing.')
        .describe('Code of the finding or hold.'),
      file: privateText(1000, 'The picture it speaks of; absent = all that the code concerns.').optional(),
      by: privateText(20, 'Initials of who answers.').optional(),
      why: privateText(1000, 'Why it is in order.').optional(),
      audience: z
        .array(
          z
            .string()
            .toLowerCase()
            .regex(
              /^[a-z][a-z0-9-]{0,39}$/,
              'Write an audience as the template names it, for example referrer.',
            ),
        )
        .max(10)
        .describe('With code face: the audiences of templates that may see the picture.')
        .register(wording, { commas: true })
        .optional(),
    }),
  )
  .max(100)
  .describe('Answers to findings and holds.');

const line = (description: string) => freeText(400, description).optional();

/** What the restoring dentist must know. */
export const handOffSchema = z
  .strictObject({
    restorer: line('Who restores the tooth.'),
    caries: line('Caries: removed or not.'),
    margins: line('State of the margins.'),
    barrier: line('What seals the orifices.'),
    temporary: line('Temporary filling.'),
    chamber: line('What lies in the pulp chamber or canals now.'),
    advise: line('What the restoration should be.'),
    by: line('By when, as a span: 4 weeks.'),
    next: line('Unfinished visit: the next step.'),
    due: line('Unfinished visit: when it is due, as a span.'),
    mishaps: z
      .array(freeText(400, 'A mishap.'))
      .max(20)
      .describe('What went wrong, one text each.')
      .optional(),
    recall: line('Who recalls the patient, and when, as a span.'),
  })
  .describe('What the restoring dentist must know.');
