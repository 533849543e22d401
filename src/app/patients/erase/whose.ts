import { nameParts } from '../../../core/names.js';
import { buildTerms, findIdentifiers } from '../../../core/terms.js';
import { findByChart, type PatientEntry, type Practice } from '../../../practice/index.js';
import { readSidecar } from '../../../stages/label/index.js';
import type { HeldVisit } from '../../intake/hold-drop.js';
import type { StoredVisit } from '../../on-file.js';
import type { HashedFolder } from '../inbox-folders.js';

/** `perhaps`: a part of the name, or one of the pictures, which another patient may have as well. */
export type Whose = 'theirs' | 'perhaps' | 'others';

/** One patient, as far as it tells whose a folder is. */
export interface Known {
  patient: PatientEntry;
  codes: readonly string[];
  names: readonly string[];
  /** SHA-256 of pictures that no visit of another patient has. */
  onlyTheirs: ReadonlySet<string>;
  /** Names of the folders their visits came in. */
  folders: ReadonlySet<string>;
}

/** Whether a text says the patient's chart number, or every part of one of the names; a family name alone is not enough. */
export function namesThem(text: string, { patient, names }: Pick<Known, 'patient' | 'names'>): Whose {
  const { chart } = patient;
  const chartOnly = buildTerms({ chart, names: [], born: null }, null);
  if (chart !== null && findIdentifiers(text, chartOnly).includes('chart')) return 'theirs';
  const said = new Set(nameParts(text));
  const parts = names.map(nameParts);
  if (parts.some((all) => all.length > 1 && all.every((part) => said.has(part)))) return 'theirs';
  const anyName = buildTerms({ chart: null, names: [...names], born: null }, null);
  return findIdentifiers(text, anyName).includes('name') ? 'perhaps' : 'others';
}

/** A sidecar decides; without one the folder's name and pictures do. */
export function whoseFolder({ name, files, sidecar }: HashedFolder, practice: Practice, known: Known): Whose {
  const read = sidecar
    ? readSidecar(sidecar, { file: 'visit.yaml', notation: practice.settings.notation })
    : null;
  const person = read?.kind === 'read' ? read.documents[0]?.document.patient : undefined;
  const hasTheirs = files.some(({ sha256 }) => sha256 !== null && known.onlyTheirs.has(sha256));
  if (person?.chart) {
    const found = findByChart({ version: 1, patients: [known.patient] }, person);
    if (found.kind === 'found') return 'theirs';
    return hasTheirs ? 'perhaps' : 'others';
  }
  const named = namesThem([name, ...(person?.names ?? [])].join(' ; '), known);
  if (named === 'theirs' || hasTheirs) return 'theirs';
  return named;
}

/** @param inbox whose each folder of the inbox is, by its name */
export function whoseHold(
  { folder, pictures, cases = [] }: HeldVisit,
  known: Known,
  inbox: ReadonlyMap<string, Whose>,
): Whose {
  if (cases.some((code) => known.codes.includes(code))) return 'theirs';
  const read = pictures.flatMap(({ sha256 }) => sha256 ?? []);
  const theirs = read.filter((sha256) => known.onlyTheirs.has(sha256)).length;
  const named = namesThem(folder, known);
  const place = inbox.get(folder) ?? 'others';
  if (named === 'theirs' || place === 'theirs') return 'theirs';
  if (read.length > 0 && theirs === read.length) return 'theirs';
  if (read.length === 0 && known.folders.has(folder)) return 'theirs';
  return theirs > 0 || named === 'perhaps' || place === 'perhaps' ? 'perhaps' : 'others';
}

/** Every name on file or in any sidecar. */
export const namesOf = (patient: PatientEntry, visits: readonly StoredVisit[]): string[] => [
  ...new Set([...patient.names, ...visits.flatMap(({ document }) => document.patient.names)]),
];
