import { isUtf8 } from 'node:buffer';
import { lstat, readdir, stat } from 'node:fs/promises';
import type { Outcome } from '../core/outcome.js';
import type { Reason } from '../core/reasons.js';
import { codeOf, troubleWords, unreadableReason } from './disk-reason.js';
import { junkKind } from './junk-names.js';
import { type FolderScan, otherThanFile, scanVisitFolder } from './scan-visit-folder.js';

/** One look at the whole inbox. `missing` is not empty: the share may be gone, the disk not connected. */
export type InboxScan =
  | { kind: 'missing' }
  | { kind: 'unreadable'; what: string }
  | {
      kind: 'seen';
      /** Device and inode of the inbox itself: another pair is another folder under the same name. */
      identity: string;
      folders: InboxFolder[];
      /** Files directly in the inbox; pictures must lie in a folder per visit. */
      loose: string[];
      refused: { name: string; reason: Reason }[];
    };

/** A direct child folder: one visit. `key` is its path as the disk has it, for telling folders apart. */
export interface InboxFolder {
  name: string;
  key: string;
  scan: Outcome<FolderScan>;
}

type Seen = Extract<InboxScan, { kind: 'seen' }>;

export async function scanInbox(inbox: string): Promise<InboxScan> {
  try {
    const stats = await stat(inbox, { bigint: true });
    if (!stats.isDirectory()) return { kind: 'unreadable', what: 'it is not a folder' };
    const seen: Seen = {
      kind: 'seen',
      identity: `${stats.dev}:${stats.ino}`,
      folders: [],
      loose: [],
      refused: [],
    };
    for (const bytes of await readdir(Buffer.from(inbox), { encoding: 'buffer' }))
      await lookAt(inbox, bytes, seen);
    seen.folders.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.key < b.key ? -1 : 1));
    seen.loose.sort();
    seen.refused.sort((a, b) => (a.name < b.name ? -1 : 1));
    return seen;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return { kind: 'missing' };
    return { kind: 'unreadable', what: troubleWords(error) };
  }
}

async function lookAt(inbox: string, bytes: Buffer, seen: Seen): Promise<void> {
  const name = bytes.toString('utf8').normalize('NFC');
  if (junkKind(name) !== null) return;
  const path = Buffer.concat([Buffer.from(`${inbox}/`), bytes]);
  const refuse = (reason: Reason): void => void seen.refused.push({ name, reason });
  try {
    const stats = await lstat(path, { bigint: true });
    if (!isUtf8(bytes)) return refuse({ code: 'name-not-utf8' });
    if (stats.isDirectory()) {
      seen.folders.push({ name, key: path.toString('latin1'), scan: await scanVisitFolder(path) });
      return;
    }
    const what = otherThanFile(stats);
    if (what !== null) return refuse({ code: 'not-a-file', what });
    seen.loose.push(name);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') refuse(unreadableReason(error));
  }
}
