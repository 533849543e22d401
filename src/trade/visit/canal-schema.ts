import { z } from 'zod';
import { amount, freeText, wording, yesNo } from './wording.js';

/** No human tooth is as long as this; the longest on record are canines just over 40 mm (from memory). */
const LONGEST_TOOTH_MM = 50;

/** A canal's label, MB or D or main: printed on sheets, so it is searched for what identifies. */
export const canalLabel = (description: string) =>
  z.string().min(1).max(24).describe(description).register(wording, { noun: 'a canal', searched: true });

const joinsSchema = z
  .strictObject({
    canal: canalLabel('The canal it joins.'),
    at: amount(0, 30, 'in millimetres from the apex', 'Millimetres from the apex.').optional(),
  })
  .describe('Where this canal runs into another one.');

/** One canal. Whether the label fits the tooth and the length is likely is a finding, not a mistake here. */
export const canalSchema = z
  .strictObject({
    canal: canalLabel('Label, e.g. MB, ML, D.'),
    length: amount(0.5, LONGEST_TOOTH_MM, 'in millimetres', 'Working length in millimetres.').optional(),
    reference: freeText(120, 'Where the length is measured from, e.g. MB cusp tip.').optional(),
    size: amount(
      1,
      200,
      'in hundredths of a millimetre, the number alone',
      'Largest instrument at length, hundredths of a millimetre.',
    ).optional(),
    taper: amount(
      0,
      0.3,
      'in millimetres per millimetre, 0.04 for four per cent',
      'Taper in millimetres per millimetre, e.g. 0.04.',
    ).optional(),
    joins: joinsSchema.optional(),
    dry: yesNo('The canal could be dried.').optional(),
    filled: freeText(160, 'Filling material, in words.').optional(),
    note: freeText(400, 'A note on this canal.').optional(),
  })
  .describe('One canal: how far it was worked and how it was filled.');
