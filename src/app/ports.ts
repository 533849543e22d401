import type { RandomBytes } from '../core/code.js';
import type { FontBytes, PictureWorkers } from '../workers/index.js';

/** The world as the flows see it: chance, time, other processes and the person who watches. */
export interface Ports {
  random: RandomBytes;
  /** Wall clock, for the private journal and for display only. */
  now(): Date;
  /** Steady clock in milliseconds, for waiting. */
  steadyMs(): number;
  sleep(ms: number): Promise<void>;
  workers: PictureWorkers;
  /** How many pictures are worked on at once. */
  workersAtOnce: number;
  fonts(): Promise<FontBytes>;
  /** Progress of something that may take over a second; never an identifying value. */
  progress(done: number, total: number, doing: string): void;
}
