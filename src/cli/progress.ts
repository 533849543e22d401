import type { Ports } from '../app/ports.js';

const FIRST_WORD_MS = 1000;
const LINE_EVERY_MS = 5000;
const BAR = 24;

/** A bar on a terminal; a plain line now and then when the output is piped. Silent for what takes under a second. */
export function showProgress(
  stream: NodeJS.WriteStream = process.stderr,
): Ports['progress'] & { end(): void } {
  let start = performance.now();
  let lastMs = start;
  let isOver = false;
  let endedMs = start;
  let shown = false;
  const show = (done: number, total: number, doing: string): void => {
    const now = performance.now();
    // Something new after a rest, as in a watch that runs for days.
    if (isOver && now - endedMs > FIRST_WORD_MS) {
      start = now;
      lastMs = now;
    }
    isOver = done === total;
    endedMs = now;
    if (now - start < FIRST_WORD_MS) return;
    if (stream.isTTY) {
      const filled = total === 0 ? BAR : Math.round((BAR * done) / total);
      stream.write(
        `\r[${'#'.repeat(filled)}${' '.repeat(BAR - filled)}] ${done} of ${total}, ${doing}\u001b[K`,
      );
      shown = true;
    } else if (now - lastMs >= LINE_EVERY_MS) {
      stream.write(`${doing}: ${done} of ${total}\n`);
      lastMs = now;
    }
  };
  const end = (): void => {
    if (shown) stream.write('\r\u001b[K');
    shown = false;
  };
  return Object.assign(show, { end });
}
