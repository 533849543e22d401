import { randomBytes } from 'node:crypto';
import { access, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { failed, held, kept, type Outcome } from '../../core/outcome.js';
import { codeOf, diskReason, troubleWords, unreadableReason } from '../disk-reason.js';
import { PRIVATE_FILE_MODE } from '../folders.js';
import type { Practice } from '../practice-paths.js';
import { syncFolder, writeAtomically } from '../write-atomically.js';
import { sealedSize, unseal } from './age.js';
import { sealFor } from './private-file.js';
import { pictureRecipient } from './protection.js';

/**
 * Pictures of private/ (originals, stripped copies, pictures of limited audience) are named by one path whether they
 * lie there in clear or, with this suffix, encrypted.
 */
export const SEALED_SUFFIX = '.age';

export type Likeness = 'absent' | 'equal' | 'other' | { trouble: string };

/** Writes a picture to its place, encrypted where the practice wishes it. */
export async function writePicture(
  practice: Practice,
  path: string,
  bytes: Uint8Array,
): Promise<Outcome<null>> {
  const recipient = pictureRecipient(practice);
  const sealed = await sealFor(recipient, bytes);
  if (sealed.kind !== 'kept') return sealed;
  const place = recipient === null ? path : path + SEALED_SUFFIX;
  return writeAtomically(place, sealed.value, { mode: PRIVATE_FILE_MODE });
}

/** The same with a picture that waits in private/tmp; then neither it nor an older one in clear is left. */
export async function placeSealed(practice: Practice, waitsAt: string, path: string): Promise<Outcome<null>> {
  const written = await writePicture(practice, path, await readFile(waitsAt));
  if (written.kind !== 'kept') return written;
  await rm(waitsAt, { force: true });
  await rm(path, { force: true });
  await syncFolder(dirname(path));
  return kept(null);
}

/**
 * Whether the encrypted picture of this path is of these bytes. Without the key only its length can be compared, which
 * shows a file cut short; other damage shows when it is opened, since each chunk carries a tag.
 */
export async function compareSealed(practice: Practice, path: string, bytes: Uint8Array): Promise<Likeness> {
  const identity = practice.protection?.identity;
  try {
    const { size } = await stat(path + SEALED_SUFFIX);
    if (size !== sealedSize(bytes.length)) return 'other';
    if (!identity) return 'equal';
    const opened = await unseal(identity, await readFile(path + SEALED_SUFFIX), basename(path));
    return opened.kind === 'kept' && Buffer.compare(opened.value, bytes) === 0 ? 'equal' : 'other';
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? 'absent' : { trouble: troubleWords(error) };
  }
}

/** A picture that can be read under `path` until `close`, which removes the copy if one was made. */
export interface OpenedPicture {
  path: string;
  close(): Promise<void>;
}

/**
 * Makes a picture readable for a worker: in clear it is read where it lies; of an encrypted one a copy is put into
 * private/tmp. `path` may be any path; one that is not kept here is given back as it is.
 */
export async function openPicture(practice: Practice, path: string): Promise<Outcome<OpenedPicture>> {
  if (!practice.protection || !(await isThere(path + SEALED_SUFFIX))) {
    return kept({ path, close: async () => undefined });
  }
  const bytes = await readPicture(practice, path);
  if (bytes.kind !== 'kept') return bytes;
  const copy = join(practice.paths.tmp, `open-${randomBytes(8).toString('hex')}${extname(path)}`);
  try {
    await writeFile(copy, bytes.value, { mode: PRIVATE_FILE_MODE });
  } catch (error) {
    await rm(copy, { force: true }).catch(() => undefined);
    return failed(diskReason(error));
  }
  return kept({ path: copy, close: () => rm(copy, { force: true }) });
}

/** The bytes of a picture of private/, decrypted where they are encrypted. */
export async function readPicture(practice: Practice, path: string): Promise<Outcome<Uint8Array>> {
  try {
    return kept(await readFile(path));
  } catch (error) {
    if (codeOf(error) !== 'ENOENT' || !practice.protection) return failed(unreadableReason(error));
  }
  const { identity } = practice.protection;
  if (identity === null) return held({ code: 'locked' });
  try {
    const sealed = await readFile(path + SEALED_SUFFIX);
    return unseal(identity, sealed, `${basename(dirname(path))}/${basename(path)}${SEALED_SUFFIX}`);
  } catch (error) {
    return failed(unreadableReason(error));
  }
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
