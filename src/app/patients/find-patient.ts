import { findByChart, type PatientEntry } from '../../practice/index.js';
import type { OnFile } from '../on-file.js';

/** A patient by chart number; one without a chart number by the code of a case. */
export function findPatient({ book }: OnFile, wanted: string): PatientEntry | null {
  const found = findByChart(book, { chart: wanted, names: [], born: null });
  if (found.kind !== 'none') return found.patient;
  const code = wanted.toUpperCase();
  const byCode = (patient: PatientEntry): boolean =>
    patient.chart === null && patient.cases.some((one) => one.code === code);
  return book.patients.find(byCode) ?? null;
}
