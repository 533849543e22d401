import { randomBytes } from 'node:crypto';
import { type FileHandle, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { kept, type Outcome } from '../core/outcome.js';
import { CONSTANT_TIME } from './constant-time.js';
import { diskReason } from './disk-reason.js';

export interface WriteOptions {
  /** Permission bits, less the umask. 0o600 for everything under private/. */
  mode?: number;
  /** Give the file the one constant time. For everything outside private/. */
  constantTimes?: boolean;
}

/** Names of half-written files: a dot, this word, twelve random hex digits. Swept after a kill. */
export const TEMPORARY_NAME = /^\.scopeleaf-[0-9a-f]{12}\.tmp$/;

const temporaryName = (): string => `.scopeleaf-${randomBytes(6).toString('hex')}.tmp`;

/**
 * Puts bytes under a name so that the name holds the old content or the new, never a part: temporary file in the
 * same folder, every byte written, fsync, size checked, renamed, folder fsynced. On any trouble (a full disk above
 * all) the temporary file is removed, what stood there before stays, and the outcome is `failed`.
 */
export async function writeAtomically(
  path: string,
  bytes: Uint8Array,
  options: WriteOptions = {},
): Promise<Outcome<null>> {
  const folder = dirname(path);
  const temporary = join(folder, temporaryName());
  try {
    await writeWhole(temporary, bytes, options);
    await rename(temporary, path);
    await syncFolder(folder);
    return kept(null);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => undefined);
    return { kind: 'failed', reason: diskReason(error) };
  }
}

async function writeWhole(path: string, bytes: Uint8Array, options: WriteOptions): Promise<void> {
  const handle = await open(path, 'wx', options.mode ?? 0o644);
  try {
    await writeAll(handle, bytes);
    if (options.constantTimes) await handle.utimes(CONSTANT_TIME, CONSTANT_TIME);
    await handle.sync();
    const { size } = await handle.stat();
    if (size !== bytes.length) throw shortWrite();
  } finally {
    await handle.close();
  }
}

/** A single write may take only a part of the bytes without an error; a full disk shows itself on the next one. */
export async function writeAll(handle: FileHandle, bytes: Uint8Array): Promise<void> {
  let done = 0;
  while (done < bytes.length) {
    const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, null);
    if (bytesWritten === 0) throw shortWrite();
    done += bytesWritten;
  }
}

const shortWrite = (): Error => Object.assign(new Error('short write'), { code: 'ENOSPC' });

/** Makes a rename or removal in a folder last. Some systems cannot open folders; there the rename has to do. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return;
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
