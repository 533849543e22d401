/** A child that does what a job's name says, so that every way to die can be tried on purpose. */
import { serveJobs } from '../../dist/workers/serve-jobs.js';

const answer = (value) => ({ kind: 'kept', value });

async function obey(name) {
  switch (name) {
    case 'hang':
      for (;;);
    case 'wait':
      return new Promise(() => {});
    case 'grow': {
      const hoard = [];
      for (;;) {
        hoard.push(Buffer.alloc(20_000_000, 1));
        await new Promise((resolve) => setTimeout(resolve, 5));
      }
    }
    case 'grow-and-hang': {
      const hoard = Buffer.alloc(400_000_000, 1);
      while (hoard.length > 0);
      return answer(null);
    }
    case 'exit':
      return process.exit(3);
    case 'killed':
      return process.kill(process.pid, 'SIGKILL');
    case 'abort':
      return process.abort();
    case 'throw':
      throw new TypeError('Rowan Testcase');
    case 'absent':
      throw Object.assign(new Error('Rowan Testcase'), { code: 'ENOENT', syscall: 'open' });
    case 'bulk':
      return answer(Buffer.alloc(30_000_000, 7));
    default:
      return answer({ pid: process.pid, name });
  }
}

serveJobs(
  { identify: (job) => obey(job.name), make: (job) => obey(job.path), reduce: (job) => obey(job.path) },
  Number(process.argv[2]),
);
