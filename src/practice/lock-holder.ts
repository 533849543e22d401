import { readFile, readlink } from 'node:fs/promises';
import { hostname } from 'node:os';

/** Who holds a lock. Together the fields name one run of one program, also after its pid was given to another. */
export interface LockHolder {
  nonce: string;
  /** What it is doing, in words for a person: "intake". */
  what: string;
  /** Wall clock, ISO 8601; for showing only. */
  since: string;
  pid: number;
  host: string;
  /** Boot and pid namespace, where the system tells; pids of another place cannot be judged. */
  boot: string | null;
  place: string | null;
  /** Start of the process in the system's own count, where it tells. */
  started: string | null;
}

export async function describeSelf(what: string, nonce: string, now: Date): Promise<LockHolder> {
  return {
    nonce,
    what,
    since: now.toISOString(),
    pid: process.pid,
    host: hostname(),
    boot: await bootId(),
    place: await readlink('/proc/self/ns/pid').catch(() => null),
    started: (await processStat(process.pid))?.started ?? null,
  };
}

/**
 * Whether a holder is gone for sure: its host was restarted since, or its process has ended or its pid belongs to
 * another. What cannot be judged from here (another host, another container) counts as alive.
 */
export async function isDead(holder: LockHolder, self: LockHolder): Promise<boolean> {
  if (holder.host !== self.host) return false;
  if (holder.boot !== self.boot) return holder.boot !== null && self.boot !== null;
  if (holder.place !== self.place) return false;
  if (!pidExists(holder.pid)) return true;
  const stat = await processStat(holder.pid);
  if (stat === null || holder.started === null) return false;
  return stat.started !== holder.started || stat.ended;
}

function pidExists(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return !(error instanceof Error && 'code' in error && error.code === 'ESRCH');
  }
}

const bootId = (): Promise<string | null> =>
  readFile('/proc/sys/kernel/random/boot_id', 'utf8').then(
    (text) => text.trim(),
    () => null,
  );

/** Linux, proc(5): field 3 is the state (Z, X: ended), field 22 the start time in clock ticks since boot. */
async function processStat(pid: number): Promise<{ started: string; ended: boolean } | null> {
  const text = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => null);
  if (text === null) return null;
  // Field 2 is the name in brackets and may hold spaces and brackets itself.
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  const started = fields[19];
  return started === undefined ? null : { started, ended: fields[0] === 'Z' || fields[0] === 'X' };
}

/** Null for what is no lock of ours. */
export function parseHolder(text: string): LockHolder | null {
  try {
    const value = JSON.parse(text) as Partial<LockHolder> | null;
    const whole =
      typeof value?.nonce === 'string' && typeof value.pid === 'number' && typeof value.host === 'string';
    return whole ? (value as LockHolder) : null;
  } catch {
    return null;
  }
}
