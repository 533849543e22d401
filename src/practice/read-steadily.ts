import { createHash } from 'node:crypto';
import { type BigIntStats, constants } from 'node:fs';
import { type FileHandle, lstat, open } from 'node:fs/promises';
import { failed, held, kept, type Outcome } from '../core/outcome.js';
import { codeOf, unreadableReason } from './disk-reason.js';
import { type Print, printOf, samePrint } from './print.js';
import { otherThanFile } from './scan-visit-folder.js';

export interface SteadyBytes {
  bytes: Uint8Array;
  /** SHA-256 (FIPS 180-4) in lower-case hex. */
  sha256: string;
}

/** 512 MB: beyond any still or radiograph; a cone-beam volume is not a picture of a visit. */
export const READ_LIMIT_BYTES = 512 * 1024 * 1024;

/** Windows knows neither flag; there a FIFO cannot lie in a folder. */
const FLAGS = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
const CHUNK_BYTES = 4 * 1024 * 1024;

/**
 * Memory to read one file after another into: fetching fresh memory for each costs more than the reading. What was
 * read into it holds until the next read.
 */
export class ReadingBuffer {
  #kept = Buffer.alloc(0);

  take(size: number): Buffer {
    if (this.#kept.length < size) this.#kept = Buffer.allocUnsafeSlow(size);
    return this.#kept.subarray(0, size);
  }
}

/**
 * Reads a file once, from one handle, and vouches that it stood still: opened without following a link or waiting
 * on a pipe, its print must be the one the scan saw, and must be the same again after the last byte, on the handle
 * and on the path. Otherwise `changing`: look again later. Never reads what is not a plain file.
 */
export async function readSteadily(
  path: string | Buffer,
  print: Print,
  limitBytes = READ_LIMIT_BYTES,
  into = new ReadingBuffer(),
): Promise<Outcome<SteadyBytes>> {
  let handle: FileHandle;
  try {
    handle = await open(path, FLAGS);
  } catch (error) {
    return notOpened(error);
  }
  try {
    return await readFrom(handle, path, print, limitBytes, into);
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? held({ code: 'changing' }) : failed(unreadableReason(error));
  } finally {
    await handle.close();
  }
}

function notOpened(error: unknown): Outcome<never> {
  switch (codeOf(error)) {
    case 'ELOOP':
    case 'EMLINK':
      return held({ code: 'not-a-file', what: 'link' });
    case 'ENXIO':
    case 'EOPNOTSUPP':
      return held({ code: 'not-a-file', what: 'socket' });
    case 'ENOENT':
      return held({ code: 'changing' });
    default:
      return failed(unreadableReason(error));
  }
}

async function readFrom(
  handle: FileHandle,
  path: string | Buffer,
  print: Print,
  limitBytes: number,
  into: ReadingBuffer,
): Promise<Outcome<SteadyBytes>> {
  const before = await handle.stat({ bigint: true });
  const what = before.isDirectory() ? 'folder-too-deep' : otherThanFile(before);
  if (what !== null) return held({ code: 'not-a-file', what });
  if (!samePrint(printOf(before), print)) return held({ code: 'changing' });
  if (print.size === 0) return held({ code: 'empty-file' });
  if (print.size > limitBytes) return held({ code: 'too-large', bytes: print.size, limitBytes });
  const read = await readWhole(handle, into.take(print.size));
  const after: BigIntStats[] = [await handle.stat({ bigint: true }), await lstat(path, { bigint: true })];
  if (read === null || !after.every((stats) => samePrint(printOf(stats), print))) {
    return held({ code: 'changing' });
  }
  return kept(read);
}

/** Exactly `size` bytes, hashed on the way so that a large file does not stop everything else; null if too few. */
async function readWhole(handle: FileHandle, bytes: Buffer): Promise<SteadyBytes | null> {
  const size = bytes.length;
  const hash = createHash('sha256');
  for (let done = 0; done < size; ) {
    const { bytesRead } = await handle.read(bytes, done, Math.min(CHUNK_BYTES, size - done), done);
    if (bytesRead === 0) return null;
    hash.update(bytes.subarray(done, done + bytesRead));
    done += bytesRead;
  }
  return { bytes, sha256: hash.digest('hex') };
}
