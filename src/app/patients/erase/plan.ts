import { buildTerms, findIdentifiers, type IdentityTerms } from '../../../core/terms.js';
import {
  findByChart,
  listHeld,
  loadCodes,
  type PatientEntry,
  type PatientFiles,
  type Practice,
  type RegisterEntry,
  readRegister,
  type ShareRecord,
  sharesIn,
} from '../../../practice/index.js';
import { readSidecar } from '../../../stages/label/index.js';
import type { HeldVisit } from '../../intake/hold-drop.js';
import { type OnFile, type StoredVisit, visitsOfCase } from '../../on-file.js';
import type { Ports } from '../../ports.js';
import { orTrouble } from '../../trouble.js';
import { type HashedFolder, hashInbox } from '../inbox-folders.js';

/** All that an erasure removes and what a person must still do; written down before anything is removed. */
export interface ErasePlan extends PatientFiles {
  version: 1;
  /** Of the receipt; random, and says nothing of the patient. */
  receipt: string;
  at: string;
  /** Originals that another patient's visit or hold has too, so they stay. */
  keptOriginals: number;
  /** Releases to recipients who should be asked to delete what they got. */
  recipients: { shareCode: string; template: string; to: string; on: string }[];
  /** Lines of the register whose recipient is the patient: their name is taken out. */
  nameless: string[];
  /** Folders of the inbox that hold the patient's pictures or name the patient. */
  inbox: string[];
}

/** Who got it, where that is the patient. */
export const THE_PATIENT = 'the patient';

/** Finds everything of one patient; changes nothing. */
export async function planErasure(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  patient: PatientEntry,
  receipt: string,
): Promise<ErasePlan> {
  const codes = patient.cases.map(({ code }) => code);
  const visits = codes.flatMap((code) => visitsOfCase(onFile, code));
  const terms = termsOf(patient, visits);
  const inbox = (
    await hashInbox(practice, (done, total) => ports.progress(done, total, 'reading the inbox'))
  ).filter((folder) => isTheirs(folder, practice, patient, visits, terms));
  const holds = orTrouble(await listHeld(practice)).map(({ id, hold }) => ({
    id,
    hold: hold as unknown as HeldVisit,
  }));
  const own = holds.filter(({ hold }) => isHeldOfThem(hold, codes, visits, terms, inbox));
  const others = holds.filter((one) => !own.includes(one));
  const all = distinct([
    ...visits.flatMap(({ pictures }) => pictures),
    ...own.flatMap(({ hold }) => hold.pictures),
  ]);
  const elsewhere = hashesOfOthers(onFile, patient, others);
  const originals = all.filter(({ sha256 }) => !elsewhere.has(sha256));
  const released = await releasesOf(practice, codes);
  return {
    version: 1,
    receipt,
    at: ports.now().toISOString(),
    codes,
    shareCodes: await shareCodesOf(practice, codes, released.own),
    visits: patient.cases.flatMap((one) => one.visits.map(({ id }) => id)),
    held: own.map(({ id }) => id),
    originals,
    displays: visits.flatMap(({ pictures }) => pictures.flatMap(({ shown }) => shown?.sha256 ?? [])),
    folders: unique(
      [...visits, ...own.map(({ hold }) => hold), ...inbox.map(({ name: folder }) => ({ folder }))].map(
        (one) => one.folder.normalize('NFC'),
      ),
    ),
    retired: released.retired,
    keptOriginals: all.length - originals.length,
    recipients: released.own.map(({ shareCode, template, to, at }) => ({
      shareCode,
      template,
      to: namesThem(to, terms) ? THE_PATIENT : to,
      on: at.slice(0, 10),
    })),
    nameless: unique(released.own.filter(({ to }) => namesThem(to, terms)).map(({ id }) => id)),
    inbox: inbox.map(({ name }) => name),
  };
}

const unique = <T>(items: readonly T[]): T[] => [...new Set(items)];

function distinct(
  pictures: readonly { sha256: string | null; extension: string }[],
): { sha256: string; extension: string }[] {
  const known = new Map<string, { sha256: string; extension: string }>();
  for (const { sha256, extension } of pictures) {
    if (sha256 !== null) known.set(`${sha256}.${extension}`, { sha256, extension });
  }
  return [...known.values()];
}

/** Names, numbers and birth dates that any record of the patient has. */
function termsOf(patient: PatientEntry, visits: readonly StoredVisit[]): IdentityTerms {
  const said = visits.map(({ document }) => document.patient);
  return buildTerms(
    {
      chart: patient.chart,
      names: unique([...patient.names, ...said.flatMap(({ names }) => names)]),
      born: patient.born ?? said.find(({ born }) => born !== null)?.born ?? null,
    },
    null,
  );
}

/** A date alone names nobody here: two patients come on one day. */
const namesThem = (text: string, terms: IdentityTerms): boolean =>
  findIdentifiers(text, terms).some((kind) => kind === 'name' || kind === 'chart' || kind === 'born');

function isTheirs(
  { name, files, sidecar }: HashedFolder,
  practice: Practice,
  patient: PatientEntry,
  visits: readonly StoredVisit[],
  terms: IdentityTerms,
): boolean {
  const known = new Set(visits.flatMap(({ pictures }) => pictures.map(({ sha256 }) => sha256)));
  if (files.some(({ sha256 }) => sha256 !== null && known.has(sha256))) return true;
  if (!sidecar) return namesThem(name, terms);
  const read = readSidecar(sidecar, { file: 'visit.yaml', notation: practice.settings.notation });
  if (read.kind === 'refused') return namesThem(name, terms);
  const person = read.documents[0]?.document.patient;
  if (!person?.chart) return namesThem(`${name} ${(person?.names ?? []).join(' ')}`, terms);
  const found = findByChart({ version: 1, patients: [patient] }, person);
  return found.kind === 'found';
}

function isHeldOfThem(
  { folder, pictures, cases = [] }: HeldVisit,
  codes: readonly string[],
  visits: readonly StoredVisit[],
  terms: IdentityTerms,
  inbox: readonly HashedFolder[],
): boolean {
  const known = new Set([
    ...visits.flatMap((visit) => visit.pictures.map(({ sha256 }) => sha256)),
    ...inbox.flatMap(({ files }) => files.flatMap(({ sha256 }) => sha256 ?? [])),
  ]);
  const read = pictures.flatMap(({ sha256 }) => sha256 ?? []);
  const isAlone =
    read.length === 0 &&
    [...visits.map((visit) => visit.folder), ...inbox.map(({ name }) => name)].includes(folder);
  return (
    cases.some((code) => codes.includes(code)) ||
    read.some((sha256) => known.has(sha256)) ||
    isAlone ||
    namesThem(folder, terms)
  );
}

function hashesOfOthers(
  { book, visits }: OnFile,
  patient: PatientEntry,
  holds: readonly { hold: HeldVisit }[],
): Set<string | null> {
  const entries = book.patients.filter((one) => one !== patient).flatMap(({ cases }) => cases);
  const theirs = entries.flatMap((one) => one.visits.flatMap(({ id }) => visits.get(id)?.pictures ?? []));
  return new Set([...theirs, ...holds.flatMap(({ hold }) => hold.pictures)].map(({ sha256 }) => sha256));
}

async function releasesOf(
  practice: Practice,
  codes: readonly string[],
): Promise<{ own: ShareRecord[]; retired: string[] }> {
  const entries: RegisterEntry[] = orTrouble(await readRegister(practice));
  const { shared, unfinished } = sharesIn(entries);
  const all = [...shared, ...unfinished];
  const own = all.filter((one) => codes.includes(one.case));
  const names = (records: readonly ShareRecord[]): string[] =>
    records.flatMap(({ files }) => files.map(({ name }) => name));
  const others = new Set(names(all.filter((one) => !own.includes(one))));
  return { own, retired: unique(names(own).filter((name) => !others.has(name))) };
}

async function shareCodesOf(
  practice: Practice,
  codes: readonly string[],
  released: readonly ShareRecord[],
): Promise<string[]> {
  const { cases } = orTrouble(await loadCodes(practice));
  const drawn = codes.flatMap((code) => Object.values(cases[code] ?? {}));
  return unique([...drawn, ...released.map(({ shareCode }) => shareCode)]);
}
