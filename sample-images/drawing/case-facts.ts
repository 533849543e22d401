/**
 * What is true of the two invented cases in every picture of them: films and stills are drawn from the same facts,
 * so that a filling that is metal under the microscope is metal on the film.
 */
export const CASE_A = {
  fdi: 46,
  /** Before: occlusal amalgam in the mesial half and centre; open carious cavity distally, down to the chamber. */
  before: ['occlusal amalgam, centre and mesial pit', 'distal caries, occlusal-distal cavity'],
  /** From the access still on: amalgam and caries are gone, the distal wall is rebuilt in composite. */
  during: ['distal wall in composite, x < -3.2 mm, 5 mm wide, down to the neck'],
  /** After visit 2: gutta-percha at floor level, thin resin seal over it, composite core fills chamber and access. */
  after: ['composite core, no metal'],
  canals: { MB: 20.5, MM: 20.0, ML: 20.0, D: 21.0 },
  joins: { canal: 'MM', into: 'MB', atMm: 4 },
} as const;

export const CASE_B = {
  fdi: 24,
  /** Before: old occlusal-distal amalgam (metal on the film as well), margin open distally. */
  before: ['occlusal-distal amalgam'],
  /** Taken out before the access; distal wall in composite. */
  during: ['distal wall in composite, x < -2 mm'],
  after: ['composite core, no metal'],
  canals: { B: 20.5, P: 20.0 },
} as const;
