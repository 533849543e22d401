import { finding, type Rule } from './rule.js';

/** Who the patient is, and what was agreed. */
export const patientRules: Rule[] = [
  ({ context }) =>
    context.patientKnown
      ? []
      : [
          finding(
            'patient-missing',
            'missing',
            'No chart number is recorded, so later visits cannot find this case. Add patient: {chart: ...} to the sidecar.',
          ),
        ],
  ({ course }) =>
    course.consent.referral === null
      ? [
          finding(
            'consent-missing',
            'note',
            'Consent to pass the case to the referring dentist is not recorded. Ask, and record it as consent: {referral: true} or false.',
            'common practice; local law decides',
          ),
        ]
      : [],
];
