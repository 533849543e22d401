import { createHash } from 'node:crypto';

/** An entry: any JSON object with a kind. */
export interface JournalEntry {
  kind: string;
  [key: string]: unknown;
}

/**
 * What the bytes of a journal say. `sound`: every line is good. `torn`: good up to `goodBytes`, then a last line
 * without its end, as a kill leaves it. `damaged`: a whole line (1-based) is not what was written.
 */
export type JournalReading =
  | { kind: 'sound'; entries: JournalEntry[] /** Only its last newline is missing. */; lacksEnd: boolean }
  | { kind: 'torn'; entries: JournalEntry[]; goodBytes: number }
  | { kind: 'damaged'; line: number };

/** Hex digits of the SHA-256 of the JSON that open each line: enough to see damage, short enough to read past. */
const CHECK_DIGITS = 16;
const NEWLINE = 0x0a;

/** One line: check digits, a space, the JSON, a newline. JSON never holds a raw newline, so a torn line has none. */
export function journalLine(entry: JournalEntry): Uint8Array {
  const json = Buffer.from(JSON.stringify(entry));
  return Buffer.concat([Buffer.from(`${checkOf(json)} `), json, Buffer.of(NEWLINE)]);
}

/** Reads lines. Nothing good is ever dropped in silence: only bytes after the last newline can count as torn. */
export function readJournalLines(bytes: Uint8Array): JournalReading {
  const entries: JournalEntry[] = [];
  let start = 0;
  for (let line = 1; start < bytes.length; line += 1) {
    const end = bytes.indexOf(NEWLINE, start);
    const entry = entryOf(bytes.subarray(start, end < 0 ? bytes.length : end));
    if (entry === null)
      return end < 0 ? { kind: 'torn', entries, goodBytes: start } : { kind: 'damaged', line };
    entries.push(entry);
    if (end < 0) return { kind: 'sound', entries, lacksEnd: true };
    start = end + 1;
  }
  return { kind: 'sound', entries, lacksEnd: false };
}

function entryOf(line: Uint8Array): JournalEntry | null {
  const text = Buffer.from(line);
  const json = text.subarray(CHECK_DIGITS + 1);
  if (text.subarray(0, CHECK_DIGITS + 1).toString('latin1') !== `${checkOf(json)} `) return null;
  try {
    const value: unknown = JSON.parse(json.toString('utf8'));
    return isEntry(value) ? value : null;
  } catch {
    return null;
  }
}

const isEntry = (value: unknown): value is JournalEntry =>
  typeof value === 'object' && value !== null && 'kind' in value && typeof value.kind === 'string';

const checkOf = (json: Uint8Array): string =>
  createHash('sha256').update(json).digest('hex').slice(0, CHECK_DIGITS);
