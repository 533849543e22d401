import { hasSettled, type Look, samePrints } from './has-settled.js';
import type { InboxStatus, WaitsFor } from './inbox-status.js';
import type { Print } from './print.js';
import type { InboxFolder, InboxScan } from './scan-inbox.js';
import type { FolderScan } from './scan-visit-folder.js';

export interface JudgeOptions {
  /** How long a visit folder must lie still. */
  quietMs: number;
  /** How long an empty file may still be about to get content, unless `quietMs` is longer. */
  emptyFileMs?: number;
}

export interface Decision {
  /** Folders to take in now, each as last seen; once for every distinct state. */
  settled: FolderScan[];
  /** What changed for the person who watches. */
  statuses: InboxStatus[];
  /** The inbox is not there or not readable: look again later and later. */
  isTrouble: boolean;
  /** The inbox is another folder than before, or back: hints must be asked for anew. */
  isNewInbox: boolean;
}

/** What is known of one visit folder. Looks: the first that saw the present state, and the last. */
interface Known {
  looks: Look[];
  /** Files that were there when it was last handed out; null when it never was. */
  handedOut: ReadonlyMap<string, Print> | null;
  /** Hand the same state out again from then on. */
  againAtMs: number | null;
}

/** Long enough for the slowest device to write its first byte; common practice, no source. */
const EMPTY_FILE_MS = 60_000;

/**
 * Decides which visit folders have arrived. Pure: scans and times of a steady clock go in, decisions come out. A folder
 * counts as a whole; a file still arriving under a temporary name keeps it waiting. Folders that were seen stay known
 * while the inbox is missing, so that a share that comes back starts nothing anew.
 */
export class InboxJudge {
  private readonly known = new Map<string, Known>();
  private readonly told = new Map<string, string>();
  private identity: string | null = null;
  private wasTrouble = false;

  constructor(private readonly options: JudgeOptions) {}

  feed(atMs: number, scan: InboxScan): Decision {
    if (scan.kind !== 'seen') return this.trouble(scan);
    const isOther = this.identity !== null && this.identity !== scan.identity;
    const statuses: InboxStatus[] = [];
    if (this.wasTrouble) statuses.push({ kind: 'inbox-back' });
    else if (isOther) statuses.push({ kind: 'inbox-replaced' });
    const isNewInbox = this.wasTrouble || isOther;
    this.identity = scan.identity;
    this.wasTrouble = false;
    this.told.delete('trouble');
    const settled: FolderScan[] = [];
    const waiting: { name: string; waitsFor: WaitsFor }[] = [];
    for (const folder of scan.folders) {
      const answer = this.judge(atMs, folder);
      if (answer === null) continue;
      if (typeof answer === 'string') waiting.push({ name: folder.name, waitsFor: answer });
      else settled.push(answer);
    }
    this.forgetGone(scan.folders);
    statuses.push(...this.news('waiting', { kind: 'waiting', folders: waiting }));
    statuses.push(...this.news('loose', { kind: 'loose', names: scan.loose }));
    statuses.push(...this.news('refused', { kind: 'refused', items: scan.refused }));
    return { settled, statuses, isTrouble: false, isNewInbox };
  }

  /** Hands out a folder again though nothing in it changed, from `atMs` on. */
  lookAgain(folder: FolderScan, atMs: number): void {
    const known = this.known.get(folder.pathBytes.toString('latin1'));
    if (known !== undefined) known.againAtMs = atMs;
  }

  /** True while a folder waits that may yet settle by itself. */
  isWaiting(): boolean {
    return [...this.known.values()].some(
      ({ looks, handedOut }) => handedOut === null && (looks.at(-1)?.prints.size ?? 0) > 0,
    );
  }

  private trouble(scan: Exclude<InboxScan, { kind: 'seen' }>): Decision {
    this.wasTrouble = true;
    const status: InboxStatus =
      scan.kind === 'missing' ? { kind: 'inbox-missing' } : { kind: 'inbox-unreadable', what: scan.what };
    return { settled: [], statuses: this.news('trouble', status), isTrouble: true, isNewInbox: false };
  }

  /** The folder when it is to be taken in, what it waits for, or null when there is nothing new about it. */
  private judge(atMs: number, folder: InboxFolder): FolderScan | WaitsFor | null {
    if (folder.scan.kind !== 'kept') {
      this.known.delete(folder.key);
      return 'access';
    }
    const scan = folder.scan.value;
    const known = this.known.get(folder.key) ?? { looks: [], handedOut: null, againAtMs: null };
    this.known.set(folder.key, known);
    remember(known, { atMs, prints: printsOf(scan, true) });
    const files = printsOf(scan, false);
    if (files.size === 0) return 'pictures';
    const isDone = known.handedOut !== null && samePrints(known.handedOut, files);
    const isAgain = known.againAtMs !== null && atMs >= known.againAtMs;
    if (isDone && !isAgain) return null;
    if (!hasSettled(known.looks, this.options.quietMs)) return 'quiet';
    const hasEmpty = scan.entries.some(
      (entry) => entry.kind === 'refused' && entry.reason.code === 'empty-file',
    );
    const emptyMs = Math.max(this.options.quietMs, this.options.emptyFileMs ?? EMPTY_FILE_MS);
    if (hasEmpty && !hasSettled(known.looks, emptyMs)) return 'empty-file';
    known.handedOut = files;
    known.againAtMs = null;
    return scan;
  }

  private forgetGone(folders: readonly InboxFolder[]): void {
    const present = new Set(folders.map(({ key }) => key));
    for (const key of this.known.keys()) if (!present.has(key)) this.known.delete(key);
  }

  /** A status, unless it is what was told last; one that was never told and has nothing to tell is left out too. */
  private news(topic: string, status: InboxStatus): InboxStatus[] {
    const text = JSON.stringify(status);
    const before = this.told.get(topic);
    this.told.set(topic, text);
    const isEmpty = Object.values(status).some((value) => Array.isArray(value) && value.length === 0);
    return before === text || (before === undefined && isEmpty) ? [] : [status];
  }
}

/** Keeps the first look at the present state and the last look; what lies between adds nothing. */
function remember(known: Known, look: Look): void {
  const [first] = known.looks;
  const isSame = first !== undefined && samePrints(first.prints, look.prints);
  known.looks = isSame ? [first, look] : [look];
}

/** Prints by path. A thing nobody could look at has none of its own; its place is taken by zeros. */
function printsOf(scan: FolderScan, withArriving: boolean): Map<string, Print> {
  const prints = new Map<string, Print>();
  for (const entry of scan.entries) prints.set(entry.pathBytes.toString('latin1'), entry.print ?? NO_PRINT);
  if (!withArriving) return prints;
  for (const { name, partial, print } of scan.ignored)
    if (partial) prints.set(`arriving/${name}`, print ?? NO_PRINT);
  return prints;
}

const NO_PRINT: Print = { size: 0, mtimeNs: 0n, ctimeNs: 0n, ino: 0n, dev: 0n };
