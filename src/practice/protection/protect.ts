import { access, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failed, held, kept, type Outcome } from '../../core/outcome.js';
import { diskReason } from '../disk-reason.js';
import type { Practice } from '../practice-paths.js';
import { syncFolder } from '../write-atomically.js';
import { conform, type Progress } from './conform.js';
import { type KeyWish, type MadeKey, makeKey } from './make-key.js';
import { type Protection, saveProtection } from './protection.js';

export interface Protecting {
  practice: Practice;
  /** Files that were encrypted or decrypted. */
  changed: number;
}

/** Begins a protection: makes the key, then says in protection.json that what is written from now on is encrypted. */
export async function beginProtection(
  practice: Practice,
  wish: KeyWish,
  originals: boolean,
): Promise<Outcome<MadeKey>> {
  let made = await makeKey(practice, wish, originals);
  if (made.kind === 'kept' && !made.value.ok && made.value.why === 'old-key') {
    // Left by a try that was cut short before anything was encrypted with it; kept all the same.
    const moved = await setAside(practice);
    if (moved.kind !== 'kept') return moved;
    made = await makeKey(practice, wish, originals);
  }
  if (made.kind !== 'kept' || !made.value.ok) return made;
  const saved = await saveProtection(practice.paths, made.value.protection);
  return saved.kind === 'kept' ? made : saved;
}

/** Encrypts what is still in clear, or goes on with that. With the key. */
export const finishProtection = (practice: Practice, progress: Progress): Promise<Outcome<Protecting>> =>
  inState(practice, 'protecting', progress, async (protection) =>
    saveProtection(practice.paths, { ...protection, state: 'on' }),
  );

/** Decrypts everything, or goes on with that; the key is taken away last. With the key. */
export const unprotect = (practice: Practice, progress: Progress): Promise<Outcome<Protecting>> =>
  inState(practice, 'unprotecting', progress, async () => {
    const { protection, key } = practice.paths;
    try {
      await rm(protection, { force: true });
      await syncFolder(practice.paths.private);
      await rm(key, { force: true });
      return kept(null);
    } catch (error) {
      return failed(diskReason(error));
    }
  });

async function inState(
  practice: Practice,
  state: Protection['state'],
  progress: Progress,
  end: (protection: Protection) => Promise<Outcome<null>>,
): Promise<Outcome<Protecting>> {
  if (!practice.protection?.identity) return held({ code: 'locked' });
  const protection = { ...practice.protection, state };
  const saved = await saveProtection(practice.paths, protection);
  if (saved.kind !== 'kept') return saved;
  const changed = await conform({ ...practice, protection }, progress);
  if (changed.kind !== 'kept') return changed;
  const ended = await end(protection);
  if (ended.kind !== 'kept') return ended;
  const now = state === 'unprotecting' ? null : { ...protection, state: 'on' as const };
  return kept({ practice: { ...practice, protection: now }, changed: changed.value });
}

async function setAside({ paths }: Practice): Promise<Outcome<null>> {
  try {
    for (let at = 1; ; at += 1) {
      const place = join(paths.private, `key-old-${at}.age`);
      const isThere = await access(place).then(
        () => true,
        () => false,
      );
      if (isThere) continue;
      await rename(paths.key, place);
      await syncFolder(paths.private);
      return kept(null);
    }
  } catch (error) {
    return failed(diskReason(error));
  }
}
