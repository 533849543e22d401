import {
  type FolderScan,
  type InboxFolder,
  type Practice,
  READ_LIMIT_BYTES,
  ReadingBuffer,
  readSteadily,
  type ScannedFile,
  scanInbox,
} from '../../practice/index.js';
import { isSidecar } from '../intake/find-sidecar.js';
import { Trouble } from '../trouble.js';

/** A visit folder of the inbox with the hash of each file in it; null for one that could not be read. */
export interface HashedFolder {
  name: string;
  files: { name: string; sha256: string | null; isSidecar: boolean }[];
  /** Bytes of its sidecar, if it has exactly one that can be read. */
  sidecar: Uint8Array | null;
  /** False when something of it was not looked at: too deep, or still arriving. */
  whole: boolean;
}

/** Reads every file of the inbox, changing nothing. An inbox that is not there has no folders. */
export async function hashInbox(
  practice: Practice,
  progress: (done: number, total: number) => void,
): Promise<HashedFolder[]> {
  const scan = await scanInbox(practice.paths.inbox);
  if (scan.kind === 'unreadable') throw new Trouble({ code: 'unreadable', what: scan.what });
  if (scan.kind === 'missing') return [];
  const buffer = new ReadingBuffer();
  const hashed: HashedFolder[] = [];
  for (const [at, folder] of scan.folders.entries()) {
    hashed.push(await hashFolder(folder, buffer));
    progress(at + 1, scan.folders.length);
  }
  return hashed;
}

async function hashFolder({ name, scan }: InboxFolder, buffer: ReadingBuffer): Promise<HashedFolder> {
  if (scan.kind !== 'kept') return { name, files: [], sidecar: null, whole: false };
  const files: HashedFolder['files'] = [];
  const sidecars: Uint8Array[] = [];
  for (const file of scan.value.entries) {
    const read = await readOne(file, buffer);
    files.push({ name: file.name, sha256: read?.sha256 ?? null, isSidecar: isSidecar(file) });
    // Copied, since the buffer is read into again.
    if (read && isSidecar(file)) sidecars.push(Uint8Array.from(read.bytes));
  }
  const sidecar = sidecars.length === 1 ? (sidecars[0] as Uint8Array) : null;
  return { name, files, sidecar, whole: !isArriving(scan.value) };
}

const isArriving = ({ ignored }: FolderScan): boolean => ignored.some(({ partial }) => partial);

async function readOne(file: ScannedFile, buffer: ReadingBuffer) {
  if (file.kind === 'refused') return null;
  const read = await readSteadily(file.pathBytes, file.print, READ_LIMIT_BYTES, buffer);
  return read.kind === 'kept' ? read.value : null;
}
