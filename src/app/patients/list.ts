import type { Practice } from '../../practice/index.js';
import { readOnFile } from '../on-file.js';

export interface ListedPatient {
  chart: string | null;
  names: string[];
  born: string | null;
  cases: {
    code: string;
    tooth: unknown;
    visits: { date: string | null; course: number; pictures: number }[];
  }[];
}

/** Everybody on file, by chart number; those without one last. Writes nothing. */
export async function listPatients(practice: Practice): Promise<ListedPatient[]> {
  const { book, visits } = await readOnFile(practice);
  const listed = book.patients.map(({ chart, names, born, cases }) => ({
    chart,
    names,
    born,
    cases: cases.map((one) => ({
      code: one.code,
      tooth: one.tooth,
      visits: one.visits.map(({ id, date, course }) => ({
        date,
        course,
        pictures: visits.get(id)?.pictures.filter(({ status }) => status === 'kept').length ?? 0,
      })),
    })),
  }));
  // No locale: the same list on every machine.
  const key = ({ chart }: ListedPatient): string => chart ?? '\uffff';
  return listed.sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}
