import { readFileSync } from 'node:fs';

const LOOK_MS = 50;
/** Linux counts the processor's time in these (USER_HZ, proc(5)). */
const TICK_MS = 10;

export interface ChildrenSeen {
  /** The most memory any one has had, by the system's own count. */
  peakBytes: number;
  /** The most of the processor's time any one has had. */
  cpuMs: number;
}

/** What the children of this process have taken so far; zeros where the system does not tell. */
export function watchChildren(): { stop(): ChildrenSeen } {
  const seen: ChildrenSeen = { peakBytes: 0, cpuMs: 0 };
  const timer = setInterval(() => {
    for (const pid of childrenOf(process.pid)) {
      seen.peakBytes = Math.max(seen.peakBytes, peakBytesOf(pid));
      seen.cpuMs = Math.max(seen.cpuMs, cpuMsOf(pid));
    }
  }, LOOK_MS);
  return {
    stop: () => {
      clearInterval(timer);
      return seen;
    },
  };
}

const childrenOf = (pid: number): number[] =>
  read(`/proc/${pid}/task/${pid}/children`).split(' ').filter(Boolean).map(Number);

const peakBytesOf = (pid: number): number =>
  1024 * Number(/^VmHWM:\s+(\d+) kB$/m.exec(read(`/proc/${pid}/status`))?.[1] ?? 0);

/** Fields 14 and 15 of proc(5), counted behind the name, which may hold blanks. */
function cpuMsOf(pid: number): number {
  const fields = read(`/proc/${pid}/stat`).split(') ').at(-1)!.split(' ');
  return TICK_MS * (Number(fields[11] ?? 0) + Number(fields[12] ?? 0));
}

function read(path: string): string {
  try {
    return readFileSync(path, 'latin1');
  } catch {
    return '';
  }
}
