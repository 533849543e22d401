import type { Outcome } from '../core/outcome.js';
import type { PictureFacts } from '../core/picture-facts.js';
import type { AuditedFile } from '../stages/audit/index.js';
import type { Reduced } from '../stages/render/index.js';
import type {
  AuditJob,
  CopyJob,
  IdentifyJob,
  Made,
  MakeJob,
  Searched,
  SearchJob,
  ShrinkJob,
} from './picture-jobs.js';
import { type PoolOptions, WorkerPool } from './worker-pool.js';

export interface WorkerOptions extends PoolOptions {
  /** Pixels above which a picture is held `too-many-pixels`. */
  pixelLimit: number;
  /** Where finders differ: they keep their models in memory, and an audit reads a file of many pictures. */
  searching: Partial<PoolOptions>;
}

export interface PictureWorkers {
  identify(job: IdentifyJob): Promise<Outcome<PictureFacts>>;
  make(job: MakeJob): Promise<Outcome<Made>>;
  copy(job: CopyJob): Promise<Outcome<null>>;
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
  keptMemoryShare: 0.3,
  // One child with the models in it, which uses both cores for one picture after the other.
  searching: { size: 1, timeLimitMs: 120_000, memoryLimitBytes: 3_000_000_000, keptMemoryShare: 0.6 },
  // Two levels up from src/workers and from dist/workers alike: always the compiled child.
  childModule: new URL('../../dist/workers/child.js', import.meta.url),
};

/** An audit opens every picture of a file, so it is given longer than a picture is. */
const AUDIT_LIMIT_MS = 600_000;

/**
 * Two pools of child processes for everything that opens a picture: one that makes pictures, one that searches them
 * with the finders' models. No child starts before the first job. A job that runs too long, takes too much memory or
 * kills its child comes back `held` with `worker-died`; the others go on.
 */
export function openWorkers(options: Partial<WorkerOptions> = {}): PictureWorkers {
  const { pixelLimit, searching, ...making } = { ...DEFAULTS, ...options };
  const makers = new WorkerPool(making);
  const searchers = new WorkerPool({ ...making, ...DEFAULTS.searching, ...searching });
  return {
    identify: (job) => makers.submit({ kind: 'identify', job }) as Promise<Outcome<PictureFacts>>,
    make: (job) => makers.submit({ kind: 'make', job, pixelLimit }) as Promise<Outcome<Made>>,
    copy: (job) => makers.submit({ kind: 'copy', job }) as Promise<Outcome<null>>,
    search: (job) => searchers.submit({ kind: 'search', job, pixelLimit }) as Promise<Outcome<Searched>>,
    audit: (job) =>
      searchers.submit({ kind: 'audit', job, pixelLimit }, AUDIT_LIMIT_MS) as Promise<Outcome<AuditedFile>>,
    reduce: (job) => makers.submit({ kind: 'reduce', job }) as Promise<Outcome<Reduced>>,
    close: async () => {
      await Promise.all([makers.close(), searchers.close()]);
    },
  };
}
