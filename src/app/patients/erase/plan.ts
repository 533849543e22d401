import {
  listHeld,
  loadCodes,
  type PatientEntry,
  type PatientFiles,
  type Practice,
  readRegister,
  type ShareRecord,
  sharesIn,
} from '../../../practice/index.js';
import type { HeldVisit } from '../../intake/hold-drop.js';
import { type OnFile, type StoredVisit, visitsOfCase } from '../../on-file.js';
import type { Ports } from '../../ports.js';
import { orTrouble } from '../../trouble.js';
import { type HashedFolder, hashInbox } from '../inbox-folders.js';
import { limitedIn } from './limited.js';
import { type Known, namesOf, namesThem, type Whose, whoseFolder, whoseHold } from './whose.js';

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
  /** Folders, held or in the inbox, that may be of this patient or of another, so nothing else of them was erased. */
  doubtful: string[];
}

/** Who got it, where that is the patient. */
export const THE_PATIENT = 'the patient';

/** Finds everything of one patient; changes nothing. What is not surely theirs is only named: it may be another's. */
export async function planErasure(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  patient: PatientEntry,
  receipt: string,
): Promise<ErasePlan> {
  const codes = patient.cases.map(({ code }) => code);
  const visits = codes.flatMap((code) => visitsOfCase(onFile, code));
  const others = visitsOfOthers(onFile, patient);
  const known = knownOf(patient, codes, visits, others);
  const inbox = await sortInbox(practice, ports, known);
  const holds = await sortHolds(practice, known, inbox);
  const held = holds.filter(({ whose }) => whose === 'theirs');
  const stay = holds.filter(({ whose }) => whose !== 'theirs');
  const all = distinct([...picturesOf(visits), ...held.flatMap(({ hold }) => hold.pictures)]);
  const elsewhere = hashes([...picturesOf(others), ...staying(stay, known)]);
  const originals = all.filter(({ sha256 }) => !elsewhere.has(sha256));
  const othersDisplays = new Set(displaysOf(others));
  const released = await releasesOf(practice, codes);
  const isToThem = ({ to }: ShareRecord): boolean => namesThem(to, known) === 'theirs';
  return {
    version: 1,
    receipt,
    at: ports.now().toISOString(),
    codes,
    shareCodes: await shareCodesOf(practice, codes, released.own),
    visits: patient.cases.flatMap((one) => one.visits.map(({ id }) => id)),
    // A hold that lists one of their pictures goes too: dropped again, its folder is held again without it.
    held: holds.filter(({ whose, lists }) => whose === 'theirs' || lists).map(({ id }) => id),
    originals,
    displays: unique([...displaysOf(visits), ...(await limitedIn(practice))]).filter(
      (sha256) => !othersDisplays.has(sha256),
    ),
    folders: unique(
      [
        ...visits.map(({ folder }) => folder),
        ...held.map(({ hold }) => hold.folder),
        ...named(inbox, 'theirs'),
      ].map((folder) => folder.normalize('NFC')),
    ),
    retired: released.retired,
    keptOriginals: all.length - originals.length,
    recipients: released.own.map((one) => ({
      shareCode: one.shareCode,
      template: one.template,
      to: isToThem(one) ? THE_PATIENT : one.to,
      on: one.at.slice(0, 10),
    })),
    nameless: unique(released.own.filter(isToThem).map(({ id }) => id)),
    inbox: named(inbox, 'theirs'),
    doubtful: unique([
      ...named(inbox, 'perhaps'),
      ...stay.flatMap(({ hold, whose }) => (whose === 'perhaps' ? [hold.folder] : [])),
    ]),
  };
}

const unique = <T>(items: readonly T[]): T[] => [...new Set(items)];

type Picture = { sha256: string | null; extension: string };

const picturesOf = (visits: readonly StoredVisit[]): Picture[] => visits.flatMap(({ pictures }) => pictures);

const displaysOf = (visits: readonly StoredVisit[]): string[] =>
  visits.flatMap(({ pictures }) => pictures.flatMap(({ shown }) => shown?.sha256 ?? []));

const hashes = (pictures: readonly Pick<Picture, 'sha256'>[]): Set<string> =>
  new Set(pictures.flatMap(({ sha256 }) => sha256 ?? []));

function distinct(pictures: readonly Picture[]): { sha256: string; extension: string }[] {
  const known = new Map<string, { sha256: string; extension: string }>();
  for (const { sha256, extension } of pictures) {
    if (sha256 !== null) known.set(`${sha256}.${extension}`, { sha256, extension });
  }
  return [...known.values()];
}

const visitsOfOthers = ({ book, visits }: OnFile, patient: PatientEntry): StoredVisit[] =>
  book.patients
    .filter((one) => one !== patient)
    .flatMap(({ cases }) => cases.flatMap((one) => one.visits.flatMap(({ id }) => visits.get(id) ?? [])));

function knownOf(
  patient: PatientEntry,
  codes: readonly string[],
  visits: readonly StoredVisit[],
  others: readonly StoredVisit[],
): Known {
  const elsewhere = hashes(picturesOf(others));
  const onlyTheirs = [...hashes(picturesOf(visits))].filter((sha256) => !elsewhere.has(sha256));
  return {
    patient,
    codes,
    names: namesOf(patient, visits),
    onlyTheirs: new Set(onlyTheirs),
    folders: new Set(visits.map(({ folder }) => folder)),
  };
}

type SortedFolder = { folder: HashedFolder; whose: Whose };

const named = (inbox: readonly SortedFolder[], wanted: Whose): string[] =>
  inbox.filter(({ whose }) => whose === wanted).map(({ folder }) => folder.name);

async function sortInbox(practice: Practice, ports: Ports, known: Known): Promise<SortedFolder[]> {
  const folders = await hashInbox(practice, (done, total) =>
    ports.progress(done, total, 'reading the inbox'),
  );
  return folders.map((folder) => ({ folder, whose: whoseFolder(folder, practice, known) }));
}

interface SortedHold {
  id: string;
  hold: HeldVisit;
  whose: Whose;
  /** It lists a picture of the patient, by its name and hash. */
  lists: boolean;
}

async function sortHolds(
  practice: Practice,
  known: Known,
  inbox: readonly SortedFolder[],
): Promise<SortedHold[]> {
  const places = new Map(inbox.map(({ folder, whose }) => [folder.name, whose]));
  return orTrouble(await listHeld(practice)).map(({ id, hold: stored }) => {
    const hold = stored as unknown as HeldVisit;
    const lists = hold.pictures.some(({ sha256 }) => sha256 !== null && known.onlyTheirs.has(sha256));
    return { id, hold, whose: whoseHold(hold, known, places), lists };
  });
}

/** Pictures that stay because a hold that stays may be another patient's; but for those that a visit says are theirs. */
const staying = (holds: readonly SortedHold[], { onlyTheirs }: Known): Picture[] =>
  holds
    .flatMap(({ hold }) => hold.pictures)
    .filter(({ sha256 }) => sha256 !== null && !onlyTheirs.has(sha256));

async function releasesOf(
  practice: Practice,
  codes: readonly string[],
): Promise<{ own: ShareRecord[]; retired: string[] }> {
  const { shared, unfinished } = sharesIn(orTrouble(await readRegister(practice)));
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
