import { EXTENSION, type FormatName } from '../../core/format-name.js';
import type { Reason } from '../../core/reasons.js';
import { formatFor } from '../../formats/index.js';
import {
  type FolderScan,
  type IsErased,
  loadErased,
  type Practice,
  READ_LIMIT_BYTES,
  ReadingBuffer,
  readSteadily,
  type ScannedFile,
  scanVisitFolder,
  storeOriginal,
  twoLooks,
} from '../../practice/index.js';
import { inParallel } from '../in-parallel.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { type FoundSidecar, findSidecar, isSidecar } from './find-sidecar.js';

/** What lies in a dropped folder, every readable file already safe in private/originals. */
export interface Drop {
  folder: string;
  /** The folder's name, as reports print it. */
  name: string;
  files: DropFile[];
  sidecar: FoundSidecar;
}

/** One file that is no sidecar. Read or not, it stands in the report. */
export interface DropFile {
  name: string;
  sha256: string | null;
  /** Null for bytes that are no known picture. */
  format: FormatName | null;
  extension: string;
  /** Where workers of `portsFor` may read the bytes: our own copy, or the source itself when nothing is written. */
  path: string | null;
  /** Why the bytes could not be taken in. */
  reason: Reason | null;
}

const TWO_LOOKS_MS = 300;
/** A folder that still changes is looked at again; a file that changes on is held, never waited for. */
const MOST_LOOKS = 10;
const AT_ONCE = 2;

/**
 * Reads a visit folder in place and stores every original before anything else is done with it.
 * @param write false reads only, for `check`
 */
export async function readDrop(
  practice: Practice,
  folder: string,
  ports: Ports,
  write: boolean,
): Promise<Drop> {
  const { scan, changing } = await lookTwice(folder, ports);
  const isErased = orTrouble(await loadErased(practice));
  const sidecars = scan.entries.filter(isSidecar);
  const others = scan.entries.filter((file) => !sidecars.includes(file));
  let done = 0;
  const buffers = Array.from({ length: AT_ONCE }, () => new ReadingBuffer());
  const files = await inParallel(others, AT_ONCE, async (file) => {
    const buffer = buffers.pop() as ReadingBuffer;
    const how = { changing: changing.has(file.name), write, isErased };
    const read = await takeFile(practice, file, how, buffer).finally(() => buffers.push(buffer));
    done += 1;
    ports.progress(done, others.length, 'storing originals');
    return read;
  });
  return { folder, name: scan.name, files, sidecar: await findSidecar(sidecars, others) };
}

async function lookTwice(folder: string, ports: Ports): Promise<{ scan: FolderScan; changing: Set<string> }> {
  let earlier = orTrouble(await scanVisitFolder(folder));
  for (let look = 1; ; look += 1) {
    await ports.sleep(TWO_LOOKS_MS);
    const later = orTrouble(await scanVisitFolder(folder));
    const changed = twoLooks(earlier, later);
    if (changed.length === 0 || look >= MOST_LOOKS) return { scan: later, changing: new Set(changed) };
    earlier = later;
  }
}

async function takeFile(
  practice: Practice,
  file: ScannedFile,
  { changing, write, isErased }: { changing: boolean; write: boolean; isErased: IsErased },
  buffer: ReadingBuffer,
): Promise<DropFile> {
  const unread = (reason: Reason): DropFile => ({
    name: file.name,
    sha256: null,
    format: null,
    extension: 'bin',
    path: null,
    reason,
  });
  if (file.kind === 'refused') return unread(file.reason);
  if (changing) return unread({ code: 'changing' });
  const read = await readSteadily(file.pathBytes, file.print, READ_LIMIT_BYTES, buffer);
  if (read.kind !== 'kept') return unread(read.reason);
  const { bytes, sha256 } = read.value;
  const format = formatFor(bytes)?.name ?? null;
  const extension = format === null ? 'bin' : EXTENSION[format];
  // Of an erased patient nothing is stored again.
  if (isErased(sha256)) {
    return { name: file.name, sha256, format, extension, path: null, reason: { code: 'erased' } };
  }
  const path = write
    ? orTrouble(await storeOriginal(practice, bytes, sha256, extension))
    : file.pathBytes.toString('utf8');
  const reason = reasonAgainst(format);
  return { name: file.name, sha256, format, extension, path, reason };
}

/** A format that is not made into a display picture is stored all the same, and held. */
function reasonAgainst(format: FormatName | null): Reason | null {
  if (format === null) return { code: 'unknown-format' };
  if (format === 'DICOMDIR') return { code: 'disc-index' };
  return null;
}
