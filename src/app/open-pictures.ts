import type { Outcome } from '../core/outcome.js';
import { openPicture, type Practice } from '../practice/index.js';
import type { PictureWorkers } from '../workers/index.js';
import type { Ports } from './ports.js';

/**
 * Ports whose workers are given readable pictures: of an encrypted original, stripped copy or picture of limited
 * audience a copy lies in private/tmp for the time of the job. Whoever opens a practice works with these; for a practice
 * that encrypts no pictures they are the ports themselves.
 */
export function portsFor<P extends Ports>(practice: Practice, ports: P): P {
  if (!practice.protection) return ports;
  return { ...ports, workers: opening(practice, ports.workers) };
}

function opening(practice: Practice, workers: PictureWorkers): PictureWorkers {
  const opened = async <J extends { path: string }, T>(
    job: J,
    work: (job: J) => Promise<Outcome<T>>,
  ): Promise<Outcome<T>> => {
    const picture = await openPicture(practice, job.path);
    if (picture.kind !== 'kept') return picture;
    try {
      return await work({ ...job, path: picture.value.path });
    } finally {
      await picture.value.close();
    }
  };
  return {
    identify: (job) => opened(job, workers.identify),
    make: (job) => opened(job, workers.make),
    copy: (job) => opened(job, workers.copy),
    search: (job) => opened(job, workers.search),
    reduce: (job) => opened(job, workers.reduce),
    audit: (job) => workers.audit(job),
    close: () => workers.close(),
  };
}
