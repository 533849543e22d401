import { drawCode, isCode, type RandomBytes } from '../core/code.js';
import { kept, type Outcome } from '../core/outcome.js';
import type { Practice } from './practice-paths.js';
import { IN_CLEAR, isObject, readRecord, writeRecord } from './record-file.js';

/** private/codes: case code to share code by audience. Holds no person, so it is never encrypted. Values; every change makes a new book. */
export interface CodeBook {
  version: 1;
  cases: Record<string, Record<string, string>>;
}

export const emptyCodeBook = (): CodeBook => ({ version: 1, cases: {} });

export async function loadCodes(practice: Practice): Promise<Outcome<CodeBook>> {
  const read = await readRecord(IN_CLEAR, practice.paths.codes, 'codes', isCodeBook);
  return read.kind === 'kept' ? kept(read.value ?? emptyCodeBook()) : read;
}

export const saveCodes = (practice: Practice, book: CodeBook): Promise<Outcome<null>> =>
  writeRecord(IN_CLEAR, practice.paths.codes, book);

/** Every code in use, of cases and of shares. */
export const codesInUse = (book: CodeBook): Set<string> =>
  new Set(Object.entries(book.cases).flatMap(([code, shares]) => [code, ...Object.values(shares)]));

/**
 * A code nobody has, of a case or a share.
 * @param alsoTaken codes known elsewhere, such as the folders under cases/
 */
export function drawFreeCode(book: CodeBook, random: RandomBytes, alsoTaken: Iterable<string> = []): string {
  const taken = new Set([...codesInUse(book), ...alsoTaken]);
  for (let tries = 0; tries < 1000; tries += 1) {
    const code = drawCode(random);
    if (!taken.has(code)) return code;
  }
  throw new Error('no free code in 1000 draws: the source of randomness repeats itself');
}

/** Enters a case under a fresh code. */
export function addCaseCode(
  book: CodeBook,
  random: RandomBytes,
  alsoTaken: Iterable<string> = [],
): { book: CodeBook; code: string } {
  const code = drawFreeCode(book, random, alsoTaken);
  return { code, book: { ...book, cases: { ...book.cases, [code]: {} } } };
}

/** The share code of a case for an audience: the one on file, else a fresh one. `book` is the same when on file. */
export function shareCodeFor(
  book: CodeBook,
  code: string,
  audience: string,
  random: RandomBytes,
  alsoTaken: Iterable<string> = [],
): { book: CodeBook; shareCode: string } {
  const shares = new Map(Object.entries(book.cases[code] ?? {}));
  const onFile = shares.get(audience);
  if (onFile !== undefined) return { book, shareCode: onFile };
  const shareCode = drawFreeCode(book, random, [...alsoTaken, code]);
  shares.set(audience, shareCode);
  return { shareCode, book: { ...book, cases: { ...book.cases, [code]: Object.fromEntries(shares) } } };
}

const isCodeBook = (value: unknown): value is CodeBook =>
  isObject(value) &&
  value['version'] === 1 &&
  isObject(value['cases']) &&
  Object.entries(value['cases']).every(
    ([code, shares]) =>
      isCode(code) &&
      isObject(shares) &&
      Object.values(shares).every((share) => typeof share === 'string' && isCode(share)),
  );
