import type { Reason } from '../core/reasons.js';

/** Plain words for what an operating system refuses. Only codes go in: its messages quote paths, and paths carry names. */
const WORDS: Record<string, string> = {
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EROFS: 'the disk is read-only',
  EACCES: 'access is not allowed',
  EPERM: 'access is not allowed',
  EIO: 'the disk reports a fault',
  EBUSY: 'the file is in use',
  ENOENT: 'it is not there',
  ENOTDIR: 'it is not a folder',
  EMFILE: 'too many files are open',
  ENAMETOOLONG: 'the name is too long',
  ESTALE: 'the network share is gone',
  EEXIST: 'something else already has that name',
};

export const codeOf = (error: unknown): string | null =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : null;

/** What went wrong, in words and the system's code; never a path or a system message. */
export function troubleWords(error: unknown): string {
  const code = codeOf(error);
  if (code === null) return 'unexpected trouble';
  return WORDS[code] === undefined ? code : `${WORDS[code]}, ${code}`;
}

export const diskReason = (error: unknown): Reason => ({ code: 'disk', what: troubleWords(error) });

export const unreadableReason = (error: unknown): Reason => ({
  code: 'unreadable',
  what: troubleWords(error),
});
