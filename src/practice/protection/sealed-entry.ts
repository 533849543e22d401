import { held, kept, type Outcome } from '../../core/outcome.js';
import type { JournalEntry } from '../journal-lines.js';
import { isText } from '../json-values.js';
import { unseal } from './age.js';
import { sealFor } from './private-file.js';
import { type Protected, recordRecipient } from './protection.js';

/**
 * An encrypted line of an append-only file: an ordinary entry whose only word is an age file in base64. Its line has
 * check digits like any other, so that a torn or damaged line shows without the key, and appending needs none.
 */
export const isSealedEntry = (entry: JournalEntry): boolean =>
  entry.kind === 'sealed' && isText(entry['age']);

/** As the entry is to be written: in clear when the practice is not protected. */
export async function sealEntry(practice: Protected, entry: JournalEntry): Promise<Outcome<JournalEntry>> {
  const recipient = recordRecipient(practice);
  if (recipient === null) return kept(entry);
  const sealed = await sealFor(recipient, Buffer.from(JSON.stringify(entry)));
  if (sealed.kind !== 'kept') return sealed;
  return kept({ kind: 'sealed', age: Buffer.from(sealed.value).toString('base64') });
}

/** Entries with the encrypted ones opened; those in clear go through. `locked` without the key if any is encrypted. */
export async function openEntries(
  { protection }: Protected,
  entries: readonly JournalEntry[],
  file: string,
): Promise<Outcome<JournalEntry[]>> {
  const opened: JournalEntry[] = [];
  for (const [at, entry] of entries.entries()) {
    if (!isSealedEntry(entry)) {
      opened.push(entry);
      continue;
    }
    if (!protection?.identity) return held({ code: 'locked' });
    const bytes = await unseal(protection.identity, Buffer.from(String(entry['age']), 'base64'), file);
    const damaged = { kind: 'failed', reason: { code: 'ledger-damaged', file, line: at + 1 } } as const;
    if (bytes.kind !== 'kept') return damaged;
    opened.push(JSON.parse(Buffer.from(bytes.value).toString('utf8')) as JournalEntry);
  }
  return kept(opened);
}
