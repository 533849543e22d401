import { isUnfinished } from '../treatments.js';
import type { HandOff } from '../visit-document.js';
import { finding, type Rule } from './rule.js';

/** How the visit ended, and what the next dentist must know. */
export const visitRules: Rule[] = [
  ({ visit }) =>
    visit !== null && visit.state === null
      ? [
          finding(
            'state-missing',
            'missing',
            'It is not recorded whether treatment is finished. Add visit: {state: finished}, interim, emergency, interrupted or consultation.',
          ),
        ]
      : [],
  ({ visit, course }) => {
    if (visit?.state !== 'finished') return [];
    if (isEmpty(course.handoff)) {
      return [
        finding(
          'handoff-missing',
          'missing',
          'Nothing is recorded for the restoring dentist. Add a handoff: what closes the tooth now, what may be done next and by when.',
        ),
      ];
    }
    return course.handoff.advise === null
      ? [
          finding(
            'handoff-missing',
            'missing',
            'The hand-off does not say what the restoring dentist may do next. Add handoff: {advise: ...}.',
          ),
        ]
      : [];
  },
  ({ visit, course }) =>
    visit?.state && isUnfinished(visit.state) && course.handoff.next === null
      ? [
          finding(
            'next-step-missing',
            'missing',
            'Treatment is not finished and the next step is not recorded. Add handoff: {next: ..., due: ...}.',
          ),
        ]
      : [],
];

function isEmpty(handoff: HandOff): boolean {
  return Object.values(handoff).every(
    (value) => value === null || (Array.isArray(value) && value.length === 0),
  );
}
