import { type FileHandle, open } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import { codeOf, diskReason } from './disk-reason.js';
import { PRIVATE_FILE_MODE } from './folders.js';
import { moveFile } from './move-file.js';
import type { Practice } from './practice-paths.js';
import { writeAtomically } from './write-atomically.js';

/**
 * Keeps an original under private/originals/<sha256>.<extension>, for good. Storing it again changes nothing: what
 * stands there is compared byte by byte, and if it differs (a damaged disk) it is left alone and reported.
 * @returns the path
 */
export const storeOriginal = (
  practice: Practice,
  bytes: Uint8Array,
  sha256: string,
  extension: string,
): Promise<Outcome<string>> => storeOnce(practice.paths.originals, bytes, sha256, extension);

/**
 * Keeps stripped bytes, written by a worker into private/tmp, under the original's hash. Unlike an original they can be
 * made again, so newer ones replace older ones.
 * @param sha256 of the original
 * @returns the path
 */
export async function storeStripped(
  practice: Practice,
  waitsAt: string,
  sha256: string,
  extension: string,
): Promise<Outcome<string>> {
  const path = pathIn(practice.paths.stripped, sha256, extension);
  try {
    await moveFile(waitsAt, path, { mode: PRIVATE_FILE_MODE });
    return kept(path);
  } catch (error) {
    return failed(diskReason(error));
  }
}

async function storeOnce(
  folder: string,
  bytes: Uint8Array,
  sha256: string,
  extension: string,
): Promise<Outcome<string>> {
  const path = pathIn(folder, sha256, extension);
  const equal = await isEqual(path, bytes);
  if (equal === 'absent') return put(path, bytes);
  if (equal === true) return kept(path);
  const what = equal === false ? 'an original that is stored already is damaged' : equal.trouble;
  return failed({ code: 'disk', what });
}

async function put(path: string, bytes: Uint8Array): Promise<Outcome<string>> {
  const written = await writeAtomically(path, bytes, { mode: PRIVATE_FILE_MODE });
  return written.kind === 'kept' ? kept(path) : written;
}

function pathIn(folder: string, sha256: string, extension: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256) || !/^[a-z0-9]{1,10}$/.test(extension)) {
    throw new TypeError('stored under a SHA-256 in hex and a short lower-case extension only');
  }
  return join(folder, `${sha256}.${extension}`);
}

/** A piece at a time, so that comparing a large original needs no second copy of it in memory. */
const PIECE_BYTES = 1024 * 1024;

async function isEqual(path: string, bytes: Uint8Array): Promise<boolean | 'absent' | { trouble: string }> {
  let handle: FileHandle | null = null;
  try {
    handle = await open(path, 'r');
    if ((await handle.stat()).size !== bytes.length) return false;
    const piece = Buffer.allocUnsafe(Math.min(PIECE_BYTES, bytes.length));
    for (let at = 0; at < bytes.length; ) {
      const { bytesRead } = await handle.read(piece, 0, piece.length, at);
      const wanted = bytes.subarray(at, at + bytesRead);
      if (bytesRead === 0 || Buffer.compare(piece.subarray(0, bytesRead), wanted) !== 0) return false;
      at += bytesRead;
    }
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return 'absent';
    const reason = diskReason(error);
    return { trouble: reason.code === 'disk' ? reason.what : reason.code };
  } finally {
    await handle?.close();
  }
}
