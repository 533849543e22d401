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
  return 'a part of the picture cannot be decoded';
}
