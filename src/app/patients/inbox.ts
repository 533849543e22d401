import { createHash } from 'node:crypto';
import { listVisits, originalPath, type Practice, readPicture } from '../../practice/index.js';
import { readOnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { type HashedFolder, hashInbox } from './inbox-folders.js';

/** What may become of a folder of the inbox, as a proposal to the person. */
export interface InboxProposal {
  folder: string;
  /** Every file is on file, byte for byte: the folder may be removed. */
  removable: boolean;
  files: number;
  /** Why it must stay, in words; null when it need not. */
  because: string | null;
}

/**
 * Says of each folder of the inbox whether all of it is proven stored: every picture equal to an original on file, read
 * again and hashed now, and every sidecar equal to an accepted one. Removes nothing.
 */
export async function proposeInbox(practice: Practice, ports: Ports): Promise<InboxProposal[]> {
  const { places } = await readOnFile(practice);
  const sidecars = new Set(orTrouble(await listVisits(practice)).map(({ sidecar }) => sha256Of(sidecar)));
  const folders = await hashInbox(practice, (done, total) =>
    ports.progress(done, total, 'reading the inbox'),
  );
  const proven = new Map<string, boolean>();
  const isStored = async (sha256: string): Promise<boolean> => {
    const known = proven.get(sha256);
    if (known !== undefined) return known;
    const extension = places.get(sha256)?.[0]?.picture.extension;
    const stored = extension !== undefined && (await isSound(practice, sha256, extension));
    proven.set(sha256, stored);
    return stored;
  };
  const proposals: InboxProposal[] = [];
  for (const folder of folders) proposals.push(await propose(folder, sidecars, isStored));
  return proposals;
}

async function propose(
  { name, files, whole }: HashedFolder,
  sidecars: ReadonlySet<string>,
  isStored: (sha256: string) => Promise<boolean>,
): Promise<InboxProposal> {
  const open: string[] = [];
  for (const file of files) {
    const { sha256 } = file;
    const stored = sha256 !== null && (file.isSidecar ? sidecars.has(sha256) : await isStored(sha256));
    if (!stored) open.push(file.name);
  }
  const because = whyNot(files.length, open, whole);
  return { folder: name, removable: because === null, files: files.length, because };
}

function whyNot(files: number, open: readonly string[], whole: boolean): string | null {
  if (!whole) return 'something in it is still arriving or cannot be read';
  if (files === 0) return 'it is empty, so there is nothing to prove';
  if (open.length === 0) return null;
  const shown = open.slice(0, 3).join(', ');
  const more = open.length > 3 ? ` and ${open.length - 3} more` : '';
  return `not on file: ${shown}${more}`;
}

/** The stored copy, read from the disk now, is what its name says. */
async function isSound(practice: Practice, sha256: string, extension: string): Promise<boolean> {
  const read = await readPicture(practice, originalPath(practice, sha256, extension));
  return read.kind === 'kept' && sha256Of(read.value) === sha256;
}

const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
