import { failed, type Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import type { AuditedFile } from '../stages/audit/index.js';
import type { Reduced } from '../stages/render/index.js';
import { JobQueue } from './job-queue.js';
import type {
  AuditJob,
  IdentifyJob,
  Made,
  MakeJob,
  PictureJob,
  Searched,
  SearchJob,
  ShrinkJob,
} from './picture-jobs.js';
import { type ChildLimits, WorkerChild } from './worker-child.js';

export interface WorkerOptions extends ChildLimits {
  /** Children at work side by side. */
  size: number;
  /** Pixels above which a picture is held `too-many-pixels`. */
  pixelLimit: number;
  /** A child is replaced after this many jobs, so that leaks in decoders cannot grow. */
  jobsPerChild: number;
}

export interface PictureWorkers {
  identify(job: IdentifyJob): Promise<Outcome<PictureFacts>>;
  make(job: MakeJob): Promise<Outcome<Made>>;
  search(job: SearchJob): Promise<Outcome<Searched>>;
  audit(job: AuditJob): Promise<Outcome<AuditedFile>>;
  reduce(job: ShrinkJob): Promise<Outcome<Reduced>>;
  /** Ends every child, also busy ones; jobs not answered yet come back `failed`. May be called twice. */
  close(): Promise<void>;
}

const DEFAULTS: WorkerOptions = {
  size: 2,
  timeLimitMs: 60_000,
  // 100 million pixels of 16-bit colour, twice, do not fit; of 8-bit colour they do.
  memoryLimitBytes: 2_000_000_000,
  pixelLimit: 100_000_000,
  jobsPerChild: 50,
  // Two levels up from src/workers and from dist/workers alike: always the compiled child.
  childModule: new URL('../../dist/workers/child.js', import.meta.url),
};

/** A child that kept this share of its limit after a job is replaced: the next picture needs the room. */
const KEPT_MEMORY_SHARE = 0.3;

const STOPPED = failed({ code: 'bug', what: 'stopped before the picture was done' });

/**
 * A pool of child processes for everything that opens a picture. No child starts before the first job. A job that
 * runs too long, takes too much memory or kills its child comes back `held` with `worker-died`; the others go on.
 */
export function openWorkers(options: Partial<WorkerOptions> = {}): PictureWorkers {
  const pool = new WorkerPool({ ...DEFAULTS, ...options });
  const { pixelLimit } = { ...DEFAULTS, ...options };
  return {
    identify: (job) => pool.submit({ kind: 'identify', job }) as Promise<Outcome<PictureFacts>>,
    make: (job) => pool.submit({ kind: 'make', job, pixelLimit }) as Promise<Outcome<Made>>,
    search: (job) => pool.submit({ kind: 'search', job, pixelLimit }) as Promise<Outcome<Searched>>,
    audit: (job) => pool.submit({ kind: 'audit', job, pixelLimit }) as Promise<Outcome<AuditedFile>>,
    reduce: (job) => pool.submit({ kind: 'reduce', job }) as Promise<Outcome<Reduced>>,
    close: () => pool.close(),
  };
}

interface Waiting {
  number: number;
  job: PictureJob;
  settle(outcome: Outcome<unknown>): void;
}

class WorkerPool {
  readonly #options: WorkerOptions;
  readonly #queue = new JobQueue<Waiting>();
  readonly #idle: WorkerChild[] = [];
  /** Every child whose process may still be there. */
  readonly #children = new Set<WorkerChild>();
  readonly #running = new Set<Waiting>();
  #submitted = 0;
  #closed = false;

  constructor(options: WorkerOptions) {
    this.#options = options;
  }

  submit(job: PictureJob): Promise<Outcome<unknown>> {
    if (this.#closed) return Promise.resolve(STOPPED);
    return new Promise((settle) => {
      const number = ++this.#submitted;
      this.#queue.add({ number, job, settle }, job.kind === 'make' ? 'heavy' : 'light');
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
    const outcome = await child.run(waiting.number, waiting.job);
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
    const { jobsPerChild, memoryLimitBytes } = this.#options;
    return (
      !child.alive ||
      child.jobsDone >= jobsPerChild ||
      child.residentBytes > KEPT_MEMORY_SHARE * memoryLimitBytes
    );
  }
}
