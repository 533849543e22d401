import type { Path } from './read-node.js';

/**
 * A mistake before it is worded: what was written is quoted only once it is known not to identify the patient,
 * so the sentence is made last.
 */
export interface Problem {
  offset: number;
  path: Path;
  got: string | null;
  allowed?: string[];
  code?: 'caption-identifies';
  /** @param got what may be quoted, or null */
  say: (got: string | null) => string;
}

/** ["images", 1, "stage"] reads "images[1].stage". */
export const fieldOf = (path: Path): string =>
  path
    .map((step, at) => (typeof step === 'number' ? `[${step}]` : `${at === 0 ? '' : '.'}${String(step)}`))
    .join('');

const LONGEST_QUOTE = 40;

/** Short enough for a line, on one line. */
export const shorten = (text: string): string => {
  const line = text.replace(/\s+/g, ' ');
  return line.length <= LONGEST_QUOTE ? line : `${line.slice(0, LONGEST_QUOTE)}...`;
};

/** `"acess"`, or `This` when it must not be quoted. */
export const named = (got: string | null): string => (got === null ? 'This' : `"${got}"`);
