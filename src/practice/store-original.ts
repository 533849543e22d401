import { type FileHandle, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { codeOf, diskReason, troubleWords } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import { moveFile } from './move-file.js';
import type { Practice } from './practice-paths.js';
import { pictureRecipient } from './protection/protection.js';
import {
  compareSealed,
  type Likeness,
  placeSealed,
  SEALED_SUFFIX,
  writePicture,
} from './protection/stored-picture.js';

/**
 * Keeps an original under private/originals/<sha256>.<extension>, for good; encrypted beside that name where the
 * practice wishes it, which needs no key. Storing it again changes nothing: what stands there is compared, and if it
 * differs (a damaged disk) it is left alone and reported.
 * @returns the path by which the original is named; `openPicture` opens it
 */
export async function storeOriginal(
  practice: Practice,
  bytes: Uint8Array,
  sha256: string,
  extension: string,
): Promise<Outcome<string>> {
  const path = pathIn(practice.paths.originals, sha256, extension);
  const plain = await compare(path, bytes);
  const stands = plain === 'absent' ? await compareSealed(practice, path, bytes) : plain;
  if (stands === 'equal') return kept(path);
  if (stands !== 'absent') {
    const what = stands === 'other' ? 'an original that is stored already is damaged' : stands.trouble;
    return failed({ code: 'disk', what });
  }
  const written = await writePicture(practice, path, bytes);
  return written.kind === 'kept' ? kept(path) : written;
}

/**
 * Keeps stripped bytes, written by a worker into private/tmp, under the original's hash. Unlike an original they can be
 * made again, so newer ones replace older ones.
 * @param sha256 of the original
 * @returns the path by which they are named
 */
export async function storeStripped(
  practice: Practice,
  waitsAt: string,
  sha256: string,
  extension: string,
): Promise<Outcome<string>> {
  const path = pathIn(practice.paths.stripped, sha256, extension);
  const placed = await placePrivately(practice, waitsAt, path);
  return placed.kind === 'kept' ? kept(path) : placed;
}

/** Moves a finished picture out of private/tmp to its place within private/, encrypted where that is wished. */
export async function placePrivately(
  practice: Practice,
  waitsAt: string,
  path: string,
): Promise<Outcome<null>> {
  try {
    if (pictureRecipient(practice) !== null) return await placeSealed(practice, waitsAt, path);
    await moveFile(waitsAt, path, { mode: PRIVATE_FILE_MODE });
    await rm(path + SEALED_SUFFIX, { force: true });
    return kept(null);
  } catch (error) {
    return failed(diskReason(error));
  }
}

/** Where an original is named; it may lie there in clear or, with a suffix, encrypted. */
export const originalPath = (practice: Practice, sha256: string, extension: string): string =>
  pathIn(practice.paths.originals, sha256, extension);

function pathIn(folder: string, sha256: string, extension: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256) || !/^[a-z0-9]{1,10}$/.test(extension)) {
    throw new TypeError('stored under a SHA-256 in hex and a short lower-case extension only');
  }
  return join(folder, `${sha256}.${extension}`);
}

/** A piece at a time, so that comparing a large original needs no second copy of it in memory. */
const PIECE_BYTES = 1024 * 1024;

async function compare(path: string, bytes: Uint8Array): Promise<Likeness> {
  let handle: FileHandle | null = null;
  try {
    handle = await open(path, 'r');
    if ((await handle.stat()).size !== bytes.length) return 'other';
    const piece = Buffer.allocUnsafe(Math.min(PIECE_BYTES, bytes.length));
    for (let at = 0; at < bytes.length; ) {
      const { bytesRead } = await handle.read(piece, 0, piece.length, at);
      const wanted = bytes.subarray(at, at + bytesRead);
      if (bytesRead === 0 || Buffer.compare(piece.subarray(0, bytesRead), wanted) !== 0) return 'other';
      at += bytesRead;
    }
    return 'equal';
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? 'absent' : { trouble: troubleWords(error) };
  } finally {
    await handle?.close();
  }
}
