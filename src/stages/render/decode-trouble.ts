import type { Reason } from '../../core/reasons.js';

/**
 * A decoder's complaint in plain words. Its own text is never passed on: it can quote what stands in the file.
 */
export function reasonOf(error: Error, format: string): Reason {
  return { code: 'damaged', format, what: wordsFor(error.message) };
}

function wordsFor(message: string): string {
  if (/premature end|truncated|end of (file|image)|not enough data|read error|short read/i.test(message)) {
    return 'it ends too early, so a part of the picture is missing';
  }
  if (/unsupported image format|not a known|bad header/i.test(message)) return 'it cannot be opened';
  if (/profile|icc/i.test(message)) return 'its colour profile cannot be used';
  return 'a part of the picture is missing or broken';
}

/**
 * Complaints of libjpeg that cost no pixel: stray bytes between segments, and a version number nobody uses. Stray
 * bytes before a restart marker (D0-D7) are not among them: there they are the rest of a broken stretch of picture.
 */
const HARMLESS = /extraneous bytes before marker 0x(?!d[0-7])[0-9a-f]{2}$|unknown JFIF revision number/;

/** True when every line of a decoder's complaint is known to be harmless; anything unknown is not. */
export function isHarmless(error: Error): boolean {
  const lines = error.message.split('\n').filter((line) => line.trim() !== '');
  return lines.length > 0 && lines.every((line) => HARMLESS.test(line.trim()));
}
