import { sentenceOf } from '../core/reason-sentence.js';
import type { Reason } from '../core/reasons.js';

/**
 * What the watcher tells a person. Folder and file names may hold a patient's name: they are for the terminal of
 * the one who watches, never for a log.
 */
export type InboxStatus =
  | { kind: 'inbox-missing' }
  | { kind: 'inbox-unreadable'; what: string }
  | { kind: 'inbox-back' }
  /** Another folder stands under the inbox's name: a disk was connected, or the folder made anew. */
  | { kind: 'inbox-replaced' }
  | { kind: 'waiting'; folders: { name: string; waitsFor: WaitsFor }[] }
  | { kind: 'loose'; names: string[] }
  | { kind: 'refused'; items: { name: string; reason: Reason }[] }
  | { kind: 'hints-off'; why: 'no-answer' | 'trouble' }
  | { kind: 'work-failed'; folder: string };

/** `quiet`: it still changes, or changed a moment ago; `empty-file`: a file in it has no content yet. */
export type WaitsFor = 'pictures' | 'quiet' | 'empty-file' | 'access';

const WAITS_FOR: Record<WaitsFor, string> = {
  pictures: 'the folder is empty',
  quiet: 'waiting until copying has finished',
  'empty-file': 'a file has no content yet',
  access: 'the folder cannot be read; trying again',
};

/** One sentence a status, or null when there is nothing to say any more. */
export function statusSentence(status: InboxStatus): string | null {
  switch (status.kind) {
    case 'inbox-missing':
      return 'The inbox is missing. Connect its disk or share, or make the folder "inbox" again; looking for it.';
    case 'inbox-unreadable':
      return `The inbox cannot be read (${status.what}). Check its disk or share; trying again.`;
    case 'inbox-back':
      return 'The inbox is back.';
    case 'inbox-replaced':
      return 'Another folder now stands in the place of the inbox; watching that one.';
    case 'waiting':
      return joined(status.folders.map(({ name, waitsFor }) => `${name}: ${WAITS_FOR[waitsFor]}`));
    case 'loose':
      return status.names.length === 0
        ? null
        : `Pictures must lie in a folder per visit. Directly in the inbox: ${listed(status.names)}.`;
    case 'refused':
      return joined(status.items.map(({ name, reason }) => `${name}: ${sentenceOf(reason)}`));
    case 'hints-off':
      return 'The system does not tell when files come; the inbox is looked through at intervals alone.';
    case 'work-failed':
      return `${status.folder}: something went wrong inside the program. Trying again in a minute.`;
  }
}

const joined = (lines: readonly string[]): string | null => (lines.length === 0 ? null : lines.join('\n'));

const listed = (names: readonly string[]): string =>
  names.length <= 5 ? names.join(', ') : `${names.slice(0, 5).join(', ')} and ${names.length - 5} more`;
