/**
 * Erases one patient on request. Comes in: a chart number and a person's yes. Leaves: a receipt, marks by which the
 * pictures are known again, and lines of the register without the person. It never touches the inbox.
 */
import { relative } from 'node:path';
import { drawCode } from '../../../core/code.js';
import type { PatientEntry, Practice } from '../../../practice/index.js';
import { readOnFile } from '../../on-file.js';
import type { Ports } from '../../ports.js';
import { findPatient } from '../find-patient.js';
import { beginErasure, finishErasure, unfinishedErasure } from './carry-out.js';
import { type ErasePlan, planErasure } from './plan.js';

export { BACKUPS, extentOf, keptSentence, RETENTION, recipientLine } from './receipt.js';
export type { ErasePlan };

export type Erasure =
  | { kind: 'unknown' }
  | { kind: 'left' }
  | { kind: 'erased'; plan: ErasePlan; paper: string };

/**
 * @param confirm shown what would go before anything does; false leaves everything as it is
 */
export async function erasePatient(
  practice: Practice,
  ports: Ports,
  wanted: string,
  confirm: (patient: PatientEntry, plan: ErasePlan) => Promise<boolean>,
): Promise<Erasure> {
  const onFile = await readOnFile(practice);
  const patient = findPatient(onFile, wanted);
  if (!patient) return { kind: 'unknown' };
  const plan = await planErasure(practice, ports, onFile, patient, drawCode(ports.random, 10));
  if (!(await confirm(patient, plan))) return { kind: 'left' };
  await beginErasure(practice, plan);
  const paper = await finishErasure(practice, ports, plan);
  return { kind: 'erased', plan, paper: relative(practice.paths.private, paper) };
}

/** Ends an erasure that was cut short. @returns its plan, or null when there is none */
export async function resumeErasure(
  practice: Practice,
  ports: Pick<Ports, 'now'>,
): Promise<ErasePlan | null> {
  const plan = await unfinishedErasure(practice);
  if (plan) await finishErasure(practice, ports, plan);
  return plan;
}
