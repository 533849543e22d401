import { failed, type Outcome } from '../core/outcome.js';
import {
  type ChildMessage,
  type JobHandlers,
  type JobMessage,
  OVER_MEMORY_EXIT,
  type PictureJob,
} from './picture-jobs.js';

const MEMORY_LOOK_MS = 100;

/**
 * The child's side: answers jobs one after the other until the parent is gone. Dies at once with the parent, even
 * a killed one, and when it is over its memory limit (the parent looks too, for when this process is busy).
 */
export function serveJobs(handlers: JobHandlers, memoryLimitBytes: number): void {
  process.on('disconnect', () => process.kill(process.pid, 'SIGKILL'));
  setInterval(() => {
    if (process.memoryUsage.rss() > memoryLimitBytes) process.exit(OVER_MEMORY_EXIT);
  }, MEMORY_LOOK_MS).unref();
  process.on('message', async ({ number, job }: JobMessage) => {
    const outcome = await answer(handlers, job);
    tell({ kind: 'done', number, outcome, residentBytes: process.memoryUsage.rss() });
  });
  tell({ kind: 'ready' });
}

function tell(message: ChildMessage): void {
  process.send?.(message);
}

/** Exceptions become data. Only the error's kind or code is told: its text could quote the picture. */
async function answer(handlers: JobHandlers, job: PictureJob): Promise<Outcome<unknown>> {
  try {
    switch (job.kind) {
      case 'identify':
        return await handlers.identify(job.job);
      case 'make':
        return await handlers.make(job.job, job.pixelLimit);
      case 'copy':
        return await handlers.copy(job.job);
      case 'search':
        return await handlers.search(job.job, job.pixelLimit);
      case 'audit':
        return await handlers.audit(job.job, job.pixelLimit);
      case 'reduce':
        return await handlers.reduce(job.job);
    }
  } catch (error) {
    const { code, syscall, name } = error as NodeJS.ErrnoException;
    if (syscall && code) return failed({ code: 'disk', what: code });
    return failed({ code: 'bug', what: `${job.kind}: ${name}` });
  }
}
