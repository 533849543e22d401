import { isUtf8 } from 'node:buffer';
import type { BigIntStats } from 'node:fs';
import { lstat, readdir, stat } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { failed, kept, type Outcome } from '../core/outcome.js';
import type { Reason } from '../core/reasons.js';
import { codeOf, unreadableReason } from './disk-reason.js';
import { junkKind } from './junk-names.js';
import { type Print, printOf } from './print.js';

interface Found {
  /** Relative to the visit folder, joined by "/", NFC; for showing and for matching with the sidecar. */
  name: string;
  /** The whole path as the disk has it; the only thing to open the file by. */
  pathBytes: Buffer;
}

/** Something in a visit folder: a file to read, or something never opened, with the reason. */
export type ScannedFile =
  | (Found & { kind: 'file'; print: Print })
  | (Found & { kind: 'refused'; print: Print | null; reason: Reason });

/** One look at a visit folder. Sorted by name, then by the bytes of the path. */
export interface FolderScan {
  /** The folder's own name. Private: it often holds the patient's. */
  name: string;
  pathBytes: Buffer;
  entries: ScannedFile[];
  /** Junk by the named list. */
  ignored: { name: string /** Still arriving. */; partial: boolean; print: Print | null }[];
}

/** Files lie in the visit folder or one folder below; what is deeper is listed and refused. */
const DEEPEST = 1;
const AT_ONCE = 64;
const SLASH = Buffer.from('/');

type Listing = Pick<FolderScan, 'entries' | 'ignored'>;

/**
 * Looks at a visit folder without opening a single file in it: names as bytes, lstat, no link followed. Two names
 * that are equal in NFC stand twice. A folder that cannot be read is an outcome, never an exception.
 */
export async function scanVisitFolder(folder: string | Buffer): Promise<Outcome<FolderScan>> {
  const pathBytes = typeof folder === 'string' ? Buffer.from(resolve(folder)) : folder;
  const listing: Listing = { entries: [], ignored: [] };
  try {
    if (!(await stat(pathBytes)).isDirectory()) {
      return failed({ code: 'unreadable', what: 'it is not a folder' });
    }
    await look(pathBytes, '', 0, listing);
  } catch (error) {
    return failed(unreadableReason(error));
  }
  listing.entries.sort(byName);
  listing.ignored.sort((a, b) => compareText(a.name, b.name));
  return kept({ name: basename(pathBytes.toString('utf8')).normalize('NFC'), pathBytes, ...listing });
}

async function look(folder: Buffer, prefix: string, depth: number, listing: Listing): Promise<void> {
  const names = await readdir(folder, { encoding: 'buffer' });
  for (let at = 0; at < names.length; at += AT_ONCE) {
    await Promise.all(
      names.slice(at, at + AT_ONCE).map((name) => lookAt(name, folder, prefix, depth, listing)),
    );
  }
}

async function lookAt(
  bytes: Buffer,
  folder: Buffer,
  prefix: string,
  depth: number,
  listing: Listing,
): Promise<void> {
  const pathBytes = Buffer.concat([folder, SLASH, bytes]);
  const own = bytes.toString('utf8').normalize('NFC');
  const name = prefix + own;
  const refuse = (print: Print | null, reason: Reason): void => {
    listing.entries.push({ name, pathBytes, kind: 'refused', print, reason });
  };
  let stats: BigIntStats;
  try {
    stats = await lstat(pathBytes, { bigint: true });
  } catch (error) {
    // Gone since the folder was listed: the next look tells.
    if (codeOf(error) !== 'ENOENT' && junkKind(own) === null) refuse(null, unreadableReason(error));
    return;
  }
  const print = printOf(stats);
  const junk = junkKind(own);
  if (junk !== null) {
    listing.ignored.push({ name, partial: junk === 'partial' && stats.isFile(), print });
    return;
  }
  if (!isUtf8(bytes)) return refuse(print, { code: 'name-not-utf8' });
  if (stats.isDirectory()) {
    if (depth >= DEEPEST) return refuse(print, { code: 'not-a-file', what: 'folder-too-deep' });
    return look(pathBytes, `${name}/`, depth + 1, listing).catch((error) => {
      if (codeOf(error) !== 'ENOENT') refuse(print, unreadableReason(error));
    });
  }
  const what = otherThanFile(stats);
  if (what !== null) return refuse(print, { code: 'not-a-file', what });
  if (stats.size === 0n) return refuse(print, { code: 'empty-file' });
  listing.entries.push({ name, pathBytes, kind: 'file', print });
}

/** What stands where a file should, or null for a plain file (POSIX file types). */
export function otherThanFile(stats: BigIntStats): 'link' | 'pipe' | 'socket' | 'device' | null {
  if (stats.isFile()) return null;
  if (stats.isSymbolicLink()) return 'link';
  if (stats.isFIFO()) return 'pipe';
  if (stats.isSocket()) return 'socket';
  return 'device';
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const byName = (a: ScannedFile, b: ScannedFile): number =>
  compareText(a.name, b.name) || Buffer.compare(a.pathBytes, b.pathBytes);
