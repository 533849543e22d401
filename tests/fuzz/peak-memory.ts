import { readFileSync } from 'node:fs';

const LOOK_MS = 100;

/** The most memory any child of this process has had, by the system's own count; 0 where there is none to ask. */
export function watchPeakMemory(): { stop(): number } {
  let peakBytes = 0;
  const look = (): void => {
    for (const pid of childrenOf(process.pid)) peakBytes = Math.max(peakBytes, peakBytesOf(pid));
  };
  const timer = setInterval(look, LOOK_MS);
  return {
    stop: () => {
      clearInterval(timer);
      return peakBytes;
    },
  };
}

function childrenOf(pid: number): number[] {
  return read(`/proc/${pid}/task/${pid}/children`).split(' ').filter(Boolean).map(Number);
}

const peakBytesOf = (pid: number): number =>
  1024 * Number(/^VmHWM:\s+(\d+) kB$/m.exec(read(`/proc/${pid}/status`))?.[1] ?? 0);

function read(path: string): string {
  try {
    return readFileSync(path, 'latin1');
  } catch {
    return '';
  }
}
