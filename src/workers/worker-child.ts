import { type ChildProcess, fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { failed, held, type Outcome } from '../core/outcome.js';
import { type ChildMessage, type JobMessage, OVER_MEMORY_EXIT, type PictureJob } from './picture-jobs.js';

export interface ChildLimits {
  /** Compiled JavaScript of the child. */
  childModule: URL;
  /** From sending a job to its answer; starting the child is not counted. */
  timeLimitMs: number;
  /** Resident memory of one child. */
  memoryLimitBytes: number;
}

const START_LIMIT_MS = 30_000;
const MEMORY_LOOK_MS = 100;

/**
 * glibc gives every picture-sized block back to the system at once and fetches it again for the next picture;
 * keeping it halves the time of a picture. One arena, since a child works on one thing at a time. Other C libraries
 * ignore these names. NODE_OPTIONS are the parent's business.
 */
const childEnvironment = (): NodeJS.ProcessEnv => {
  const { NODE_OPTIONS: _, ...inherited } = process.env;
  return {
    ...inherited,
    UV_THREADPOOL_SIZE: '2',
    MALLOC_ARENA_MAX: '1',
    MALLOC_MMAP_THRESHOLD_: '1000000000',
    MALLOC_TRIM_THRESHOLD_: '1000000000',
  };
};

/** One child process and the one job it has at a time. Any breach of a limit ends the process and holds that job. */
export class WorkerChild {
  readonly #process: ChildProcess;
  readonly #limits: ChildLimits;
  readonly #exited: Promise<void>;
  readonly #ready: Promise<boolean>;
  #killedFor: 'time' | 'memory' | null = null;
  #alive = true;
  jobsDone = 0;
  /** Resident memory after the last job. */
  residentBytes = 0;

  constructor(limits: ChildLimits) {
    this.#limits = limits;
    this.#process = fork(limits.childModule, [String(limits.memoryLimitBytes)], {
      serialization: 'advanced',
      execArgv: [],
      env: childEnvironment(),
      // Decoders print what they stumble over, which can quote the picture's metadata.
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    this.#exited = new Promise((resolve) => {
      const gone = () => {
        this.#alive = false;
        resolve();
      };
      this.#process.once('exit', gone);
      this.#process.on('error', () => this.#process.pid === undefined && gone());
    });
    const ready = new Promise<boolean>((resolve) => this.#process.once('message', () => resolve(true)));
    this.#ready = within(START_LIMIT_MS, Promise.race([ready, this.#exited.then(() => false)]), false);
  }

  get alive(): boolean {
    return this.#alive;
  }

  get pid(): number | undefined {
    return this.#process.pid;
  }

  /** The job's outcome, or why the child died over it. */
  async run(
    number: number,
    job: PictureJob,
    timeLimitMs = this.#limits.timeLimitMs,
  ): Promise<Outcome<unknown>> {
    this.#holdParent(true);
    const stopWatching = this.#watchMemory();
    try {
      if (!(await this.#ready)) {
        this.#process.kill('SIGKILL');
        return failed({ code: 'bug', what: 'the program that opens pictures did not start' });
      }
      const outcome = await within(timeLimitMs, this.#exchange({ number, job }), null);
      if (outcome === null) this.#kill('time');
      if (outcome === null) await this.#exited;
      return outcome ?? this.#whyItDied();
    } finally {
      stopWatching();
      this.jobsDone++;
      this.#holdParent(false);
    }
  }

  /** Ends the process and waits until the system has let go of it. */
  async stop(): Promise<void> {
    if (!this.#alive) return;
    this.#process.ref();
    this.#process.kill('SIGKILL');
    await this.#exited;
  }

  #exchange(message: JobMessage): Promise<Outcome<unknown>> {
    return new Promise((resolve) => {
      const hear = (heard: ChildMessage) => {
        if (heard.kind !== 'done' || heard.number !== message.number) return;
        this.#process.off('message', hear);
        this.residentBytes = heard.residentBytes;
        resolve(heard.outcome);
      };
      this.#process.on('message', hear);
      this.#exited.then(() => resolve(this.#whyItDied()));
      // A failed send means the child is going; its exit tells why.
      this.#process.send(message, () => {});
    });
  }

  #whyItDied(): Outcome<never> {
    // Killed by nobody here: on Linux that is the system running out of memory.
    const outOfMemory = this.#process.exitCode === OVER_MEMORY_EXIT || this.#process.signalCode === 'SIGKILL';
    return held({ code: 'worker-died', what: this.#killedFor ?? (outOfMemory ? 'memory' : 'crash') });
  }

  #kill(why: 'time' | 'memory'): void {
    if (!this.#alive) return;
    this.#killedFor ??= why;
    this.#process.kill('SIGKILL');
  }

  /** Looks from outside, which works even while the child is stuck in a decoder; Linux only, see serve-jobs.ts. */
  #watchMemory(): () => void {
    const look = setInterval(() => {
      if (residentBytesOf(this.#process.pid) > this.#limits.memoryLimitBytes) this.#kill('memory');
    }, MEMORY_LOOK_MS);
    return () => clearInterval(look);
  }

  /** An idle child must not keep the program from ending; a busy one must. */
  #holdParent(busy: boolean): void {
    if (busy) this.#process.ref();
    else this.#process.unref();
    if (busy) this.#process.channel?.ref();
    else this.#process.channel?.unref();
  }
}

/** Resident memory of a process from the system's own table; 0 where there is none, or the process is gone. */
function residentBytesOf(pid: number | undefined): number {
  try {
    const kib = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'latin1'))?.[1];
    return Number(kib ?? 0) * 1024;
  } catch {
    return 0;
  }
}

/** What `promise` gives, or `late` once the time is up. */
function within<T, L>(limitMs: number, promise: Promise<T>, late: L): Promise<T | L> {
  let timer: NodeJS.Timeout;
  const limit = new Promise<L>((resolve) => {
    timer = setTimeout(() => resolve(late), limitMs);
  });
  return Promise.race([promise, limit]).finally(() => clearTimeout(timer));
}
