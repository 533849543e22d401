/**
 * Findings: in comes a case record, out goes what is missing, contradictory or doubtful in it, each with a sentence
 * (what was seen, then what to do) and the source of the rule. For the practice only; no sheet that leaves prints
 * one. Nothing here gives advice on treatment, asks for a new exposure, or fills in what nobody recorded.
 */
import type { CaseRecord, Finding, FindingLevel } from '../case-record.js';
import { diagnosisRules } from './diagnosis.js';
import { fillingRules } from './filling.js';
import { joinRules } from './joins.js';
import { labelRules } from './labels.js';
import { lengthRules } from './lengths.js';
import { objectRules } from './objects.js';
import { patientRules } from './patient.js';
import { pictureRules } from './pictures.js';
import { type FindingContext, newestCourse, type Rule } from './rule.js';
import { shotRules } from './shots.js';
import { visitRules } from './visit.js';

export type { FindingContext } from './rule.js';

/** Every rule, by hand: a new family is one file and one line here. */
const RULES: readonly Rule[] = [
  ...patientRules,
  ...visitRules,
  ...shotRules,
  ...labelRules,
  ...joinRules,
  ...fillingRules,
  ...lengthRules,
  ...pictureRules,
  ...objectRules,
  ...diagnosisRules,
];

const LEVELS: readonly FindingLevel[] = ['contradiction', 'missing', 'check', 'note'];

/** Findings on the newest course, contradictions first; those whose code a person has answered are settled. */
export function findingsOf(
  record: CaseRecord,
  context: { patientKnown: boolean; answered?: readonly string[] },
): Finding[] {
  const full: FindingContext = { patientKnown: context.patientKnown, answered: context.answered ?? [] };
  const view = newestCourse(record, full);
  if (view === null) return [];
  return RULES.flatMap((rule) => rule(view))
    .filter((found) => !full.answered.includes(found.code))
    .sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level));
}
