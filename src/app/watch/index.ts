/**
 * Watches the inbox: each visit folder that lies still is taken in, or says what it waits for. The scan is the truth;
 * events only make it look earlier.
 */
import { join } from 'node:path';
import { sentenceOf } from '../../core/reason-sentence.js';
import {
  type FolderScan,
  type InboxStatus,
  type Practice,
  statusSentence,
  watchInbox,
} from '../../practice/index.js';
import { isSidecar, looksLikeSidecar } from '../intake/find-sidecar.js';
import { intakeVisit } from '../intake/index.js';
import type { Ports } from '../ports.js';
import type { VisitReport } from '../report.js';
import { asOnlyWriter } from '../session.js';
import { Trouble } from '../trouble.js';

export interface WatchWish {
  once: boolean;
  signal: AbortSignal;
  /** Opens practice.yaml again; what it says holds from the next visit on, unless it has mistakes. */
  reopen(): Promise<Practice>;
  onReports(reports: VisitReport[]): void;
  /** Trouble with the machine, in words; the visit is tried again. */
  onTrouble(sentence: string): void;
  /** One line for the person who watches; may hold a folder's name, so it is never logged. */
  onStatus(sentence: string): void;
}

/** A picture that cannot be opened may still be arriving; after half an hour it counts as damaged. */
const STILL_ARRIVING_MS = 30 * 60_000;
const RETRY_MS = [5_000, 15_000, 60_000, 5 * 60_000, 10 * 60_000] as const;

const AFTER_TROUBLE_MS = 60_000;

interface Patience {
  /** When it was first found waiting; null while it does not. */
  sinceMs: number | null;
  tries: number;
  drafted: boolean;
  /** What was last said of it, so that a folder which waits on is not told again and again. */
  said: string;
}

export async function watchPractice(practice: Practice, ports: Ports, wish: WatchWish): Promise<void> {
  const patience = new Map<string, Patience>();
  await watchInbox({
    inbox: practice.paths.inbox,
    quietMs: practice.settings.quiet * 1000,
    once: wish.once,
    signal: wish.signal,
    onStatus: (status: InboxStatus) => {
      const sentence = statusSentence(status);
      for (const line of sentence?.split('\n') ?? []) wish.onStatus(line);
    },
    onSettled: async (folder: FolderScan) => {
      const waited = patience.get(folder.name) ?? { sinceMs: null, tries: 0, drafted: false, said: '' };
      patience.set(folder.name, waited);
      try {
        return await takeSettled(await wish.reopen(), ports, wish, folder, waited);
      } catch (error) {
        if (!(error instanceof Trouble)) throw error;
        if (error.reason.code === 'locked' || error.reason.code === 'erased') {
          wish.onStatus(`${folder.name}: ${error.message}`);
          return undefined;
        }
        // A full disk or a busy practice passes; the folder is still in the inbox, and nothing is half-written.
        wish.onTrouble(`${folder.name}: ${error.message}${wish.once ? '' : ' Trying again in a minute.'}`);
        return { lookAgainMs: AFTER_TROUBLE_MS };
      }
    },
  });
}

async function takeSettled(
  practice: Practice,
  ports: Ports,
  wish: WatchWish,
  folder: FolderScan,
  waited: Patience,
): Promise<undefined | { lookAgainMs: number }> {
  const path = join(practice.paths.inbox, folder.name);
  if (!hasSidecar(folder)) return draftOnce(practice, ports, wish, path, folder, waited);
  const patient = ports.steadyMs() - (waited.sinceMs ?? ports.steadyMs()) < STILL_ARRIVING_MS;
  const reports = await asOnlyWriter(practice, 'watch', () =>
    intakeVisit(practice, path, ports, { write: true, waits: patient }),
  );
  const isWaiting = reports.some((report) => report.status === 'waiting');
  const words = JSON.stringify(reports);
  if (!isWaiting || words !== waited.said) wish.onReports(reports);
  waited.said = words;
  if (!isWaiting) {
    Object.assign(waited, { sinceMs: null, tries: 0 });
    return undefined;
  }
  waited.sinceMs ??= ports.steadyMs();
  const pause = RETRY_MS[Math.min(waited.tries, RETRY_MS.length - 1)] as number;
  waited.tries += 1;
  return { lookAgainMs: pause };
}

const hasSidecar = (folder: FolderScan): boolean => folder.entries.some(isSidecar);

async function draftOnce(
  practice: Practice,
  ports: Ports,
  wish: WatchWish,
  path: string,
  { name, entries }: FolderScan,
  waited: Patience,
): Promise<undefined> {
  if (waited.drafted) return undefined;
  const alike = entries.find(looksLikeSidecar);
  if (alike) {
    wish.onStatus(`${name}: ${sentenceOf({ code: 'no-sidecar', instead: alike.name })}`);
    return undefined;
  }
  const { makeDraft, shortPath } = await import('../draft/index.js');
  const draft = await asOnlyWriter(practice, 'draft', () => makeDraft(practice, path, ports));
  waited.drafted = true;
  const where = shortPath(practice, draft.folder);
  wish.onStatus(
    `${name}: waiting for visit.yaml. A draft of it and a numbered contact sheet are in ${where}; correct the draft and put it into the visit folder.`,
  );
  return undefined;
}
