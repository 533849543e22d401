import { failed, type Outcome } from '../core/outcome.js';
import { JobQueue } from './job-queue.js';
import type { PictureJob } from './picture-jobs.js';
import { type ChildLimits, WorkerChild } from './worker-child.js';

export interface PoolOptions extends ChildLimits {
  /** Children at work side by side. */
  size: number;
  /** A child is replaced after this many jobs, so that leaks in decoders cannot grow. */
  jobsPerChild: number;
  /** A child that kept more than this share of its memory limit after a job is replaced: the next one needs the room. */
  keptMemoryShare: number;
}

const STOPPED = failed({ code: 'bug', what: 'stopped before the picture was done' });

interface Waiting {
  number: number;
  job: PictureJob;
  timeLimitMs: number | undefined;
  settle(outcome: Outcome<unknown>): void;
}

/** Children of one kind and the jobs that wait for them. */
export class WorkerPool {
  readonly #options: PoolOptions;
  readonly #queue = new JobQueue<Waiting>();
  readonly #idle: WorkerChild[] = [];
  /** Every child whose process may still be there. */
  readonly #children = new Set<WorkerChild>();
  readonly #running = new Set<Waiting>();
  #submitted = 0;
  #closed = false;

  constructor(options: PoolOptions) {
    this.#options = options;
  }

  /** @param timeLimitMs where a job needs longer than the pool's others */
  submit(job: PictureJob, timeLimitMs?: number): Promise<Outcome<unknown>> {
    if (this.#closed) return Promise.resolve(STOPPED);
    return new Promise((settle) => {
      const number = ++this.#submitted;
      this.#queue.add({ number, job, timeLimitMs, settle }, job.kind === 'make' ? 'heavy' : 'light');
      this.#dispatch();
    });
  }

  async close(): Promise<void> {
    this.#closed = true;
    for (const waiting of [...this.#queue.drain(), ...this.#running]) waiting.settle(STOPPED);
    await Promise.all([...this.#children].map((child) => child.stop()));
  }

  #dispatch(): void {
    while (!this.#closed && this.#running.size < this.#options.size) {
      const waiting = this.#queue.next();
      if (!waiting) return;
      this.#running.add(waiting);
      void this.#serve(waiting, this.#freeChild());
    }
  }

  async #serve(waiting: Waiting, child: WorkerChild): Promise<void> {
    const outcome = await child.run(waiting.number, waiting.job, waiting.timeLimitMs);
    this.#running.delete(waiting);
    if (this.#isWornOut(child)) {
      void child.stop().then(() => this.#children.delete(child));
    } else {
      this.#idle.push(child);
    }
    waiting.settle(outcome);
    this.#dispatch();
  }

  #freeChild(): WorkerChild {
    for (let child = this.#idle.pop(); child; child = this.#idle.pop()) {
      if (child.alive) return child;
      this.#children.delete(child);
    }
    const child = new WorkerChild(this.#options);
    this.#children.add(child);
    return child;
  }

  #isWornOut(child: WorkerChild): boolean {
    const { jobsPerChild, memoryLimitBytes, keptMemoryShare } = this.#options;
    return (
      !child.alive ||
      child.jobsDone >= jobsPerChild ||
      child.residentBytes > keptMemoryShare * memoryLimitBytes
    );
  }
}
