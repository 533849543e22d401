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

/** How an entry is written as one line. JSON never holds a raw newline, so a torn line has none. */
export interface LineForm {
  /** With its newline. */
  write(entry: JournalEntry): Uint8Array;
  /** Null when the line, without its newline, is not what was written. */
  read(line: Uint8Array): JournalEntry | null;
}

/** One line: check digits, a space, the JSON, a newline. */
export function journalLine(entry: JournalEntry): Uint8Array {
  const json = Buffer.from(JSON.stringify(entry));
  return Buffer.concat([Buffer.from(`${checkOf(json)} `), json, Buffer.of(NEWLINE)]);
}

/** The journal's own form. */
export const CHECKED_LINES: LineForm = { write: journalLine, read: entryOf };

const CHECK_KEY = ',"check":"';
const TAIL_BYTES = CHECK_KEY.length + CHECK_DIGITS + '"}'.length;

/** JSON Lines, for files that others may read: the check digits are the last key, and speak of all before it. */
export const JSON_LINES: LineForm = {
  write: (entry) => {
    const json = Buffer.from(JSON.stringify(entry));
    const body = json.subarray(0, -1);
    return Buffer.concat([body, Buffer.from(`${CHECK_KEY}${checkOf(json)}"}\n`)]);
  },
  read: (line) => {
    const text = Buffer.from(line);
    if (text.length <= TAIL_BYTES) return null;
    const json = Buffer.concat([text.subarray(0, -TAIL_BYTES), Buffer.from('}')]);
    const tail = text.subarray(-TAIL_BYTES).toString('latin1');
    return tail === `${CHECK_KEY}${checkOf(json)}"}` ? parsed(json) : null;
  },
};

/** Reads lines. Nothing good is ever dropped in silence: only bytes after the last newline can count as torn. */
export function readJournalLines(bytes: Uint8Array, form: LineForm = CHECKED_LINES): JournalReading {
  const entries: JournalEntry[] = [];
  let start = 0;
  for (let line = 1; start < bytes.length; line += 1) {
    const end = bytes.indexOf(NEWLINE, start);
    const entry = form.read(bytes.subarray(start, end < 0 ? bytes.length : end));
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
  return text.subarray(0, CHECK_DIGITS + 1).toString('latin1') === `${checkOf(json)} ` ? parsed(json) : null;
}

function parsed(json: Buffer): JournalEntry | null {
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
