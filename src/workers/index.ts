/**
 * Workers: everything that opens a picture happens in child processes, never in the main one.
 * In: paths of our own copies. Out: outcomes with bytes, handed over one by one.
 * Refused: a job over its limit of time, memory or pixels; it comes back held, and the next job gets a fresh child.
 */
export { type FontBytes, loadFonts } from './fonts.js';
export { openWorkers, type PictureWorkers, type WorkerOptions } from './open-workers.js';
export type { IdentifyJob, Made, MakeJob, Searched, SearchJob, ShrinkJob } from './picture-jobs.js';
